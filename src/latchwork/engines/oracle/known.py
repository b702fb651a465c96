"""Three-valued operations on pairs (bits, mask of known bits), called by the functions of the known reading.

Whatever comes out known holds for every choice of the unknown bits; bits that are not known are 0.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Protocol

Pair = tuple[int, int]
UNKNOWN: Pair = (0, 0)
ZERO: Pair = (0, 1)
ONE: Pair = (1, 1)
UNKNOWN_ADDRESS_BITS = 8  # up to so many unknown bits of an address, all cells they may mean are compared


class Cells(Protocol):
    """What is read of a memory."""

    def __getitem__(self, address: int, /) -> Pair: ...

    def peek(self, address: int) -> Pair: ...


def agreed(a: Pair, b: Pair) -> Pair:
    """What is known whichever of the two it is."""
    known = a[1] & b[1] & ~(a[0] ^ b[0])
    return a[0] & known, known


def and_all(full: int, *pairs: Pair) -> Pair:
    ones, zeros = full, 0
    for bits, known in pairs:
        ones &= bits
        zeros |= known & ~bits
    return ones, ones | zeros


def or_all(full: int, *pairs: Pair) -> Pair:
    ones, zeros = 0, full
    for bits, known in pairs:
        ones |= bits
        zeros &= known & ~bits
    return ones, ones | zeros


def xor_all(full: int, *pairs: Pair) -> Pair:
    result, certain = 0, full
    for bits, known in pairs:
        result ^= bits
        certain &= known
    return result & certain, certain


def add_all(full: int, *pairs: Pair) -> Pair:
    """A bit of a sum is known where both its bits are, and the carry into it is the same in the least and the
    greatest sum."""
    total = pairs[0]
    for pair in pairs[1:]:
        total = _add(full, total, pair)
    return total


def _add(full: int, a: Pair, b: Pair) -> Pair:
    a_most, b_most = a[0] | full & ~a[1], b[0] | full & ~b[1]
    least = a[0] + b[0]
    carries_differ = least ^ a[0] ^ b[0] ^ (a_most + b_most) ^ a_most ^ b_most
    known = a[1] & b[1] & ~carries_differ & full
    return least & known, known


def equal(a: int, a_known: int, b: int, b_known: int, full: int) -> Pair:
    both = a_known & b_known
    if (a ^ b) & both:
        return ZERO
    return ONE if both == full else UNKNOWN


def less(a: int, a_known: int, b: int, b_known: int, full: int) -> Pair:
    if a | full & ~a_known < b:
        return ONE
    return ZERO if a >= (b | full & ~b_known) else UNKNOWN


def case(select: int, known: int, full: int, keys: tuple[int, ...], values: tuple[Pair, ...]) -> Pair:
    """The last of ``values`` stands for all that no key names."""
    if known == full:
        return values[keys.index(select)] if select in keys else values[-1]
    reached = [index for index, key in enumerate(keys) if not (key ^ select) & known]
    if len(reached) < 1 << (full & ~known).bit_count():
        reached.append(len(keys))
    result = values[reached[0]]
    for index in reached[1:]:
        result = agreed(result, values[index])
    return result


def read(cells: Cells, address: int, known: int, full: int) -> Pair:
    """A cell; with few unknown address bits what all cells agree upon that may be meant."""
    if known == full:
        return cells[address]
    missing = full & ~known
    if missing.bit_count() > UNKNOWN_ADDRESS_BITS:
        return UNKNOWN
    result = cells.peek(address)
    for choice in _choices(missing):
        result = agreed(result, cells.peek(address | choice))
        if not result[1]:
            break
    return result


def _choices(missing: int) -> Iterator[int]:
    choice = missing
    while choice:
        yield choice
        choice = (choice - 1) & missing


HELPERS: dict[str, Callable[..., Any]] = {
    "agreed": agreed,
    "and_all": and_all,
    "or_all": or_all,
    "xor_all": xor_all,
    "add_all": add_all,
    "equal": equal,
    "less": less,
    "case": case,
    "read": read,
}
