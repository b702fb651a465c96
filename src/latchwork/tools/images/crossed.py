"""What would make the right chip read like this: crossed or stuck address or data lines.

An image of n address lines is a function of n bits. Where the address lines of a reading are crossed, the bytes that
stand where line i is high are, in number and kind, those that stood where another line j was high. So each line is
known by its signature, the count of each byte value in its half, and crossings of any number of lines are found
without trying all of them. Data lines are compared plane by plane.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, islice, permutations, product

_MOST_TRIALS = 200


@dataclass(frozen=True)
class Explanation:
    """Line i of the reader went to line ``address[i]`` of the chip, bit i of the reading came from ``data[i]`` of it.

    ``stuck_address`` and ``stuck_data``: (line, level) pairs. ``remaining``: bytes that still differ.
    """

    address: tuple[int, ...] = ()
    data: tuple[int, ...] = ()
    stuck_address: tuple[tuple[int, int], ...] = ()
    stuck_data: tuple[tuple[int, int], ...] = ()
    remaining: int = 0


def explain(should: bytes, found: bytes, bits: int) -> Explanation | None:
    """The simplest explanation of all differences; else the best one of most of them; else None.

    ``should`` and ``found`` are equally long, a power of two, and hold ``bits`` bits a byte.
    """
    lines = len(should).bit_length() - 1
    for exact in _exact(should, found, lines, bits):
        return exact
    return _nearly(should, found, lines, bits)


def _exact(should: bytes, found: bytes, lines: int, bits: int) -> Iterator[Explanation]:
    yield from _data_crossed(should, found, bits)
    yield from _stuck_data(should, found, bits)
    yield from _stuck_address(should, found, lines)
    yield from _address_crossed(should, found, lines)
    yield from _both_crossed(should, found, lines, bits)


def _data_crossed(should: bytes, found: bytes, bits: int) -> Iterator[Explanation]:
    there = [_plane(should, bit) for bit in range(bits)]
    order: list[int] = []
    for bit in range(bits):
        plane = _plane(found, bit)
        likely = sorted((other for other in range(bits) if other not in order), key=lambda other: other != bit)
        match = next((other for other in likely if there[other] == plane), None)
        if match is None:
            return
        order.append(match)
    yield Explanation(data=tuple(order))


def _plane(content: bytes, bit: int) -> bytes:
    return content.translate(bytes(value >> bit & 1 for value in range(256)))


def _stuck_data(should: bytes, found: bytes, bits: int) -> Iterator[Explanation]:
    stuck = []
    for bit in range(bits):
        plane = _plane(found, bit)
        if plane == _plane(should, bit):
            continue
        if len(set(plane)) > 1:
            return
        stuck.append((bit, plane[0]))
    if stuck:
        yield Explanation(stuck_data=tuple(stuck))


def _stuck_address(should: bytes, found: bytes, lines: int) -> Iterator[Explanation]:
    for line in range(lines):
        for level in (0, 1):
            if with_stuck_address(should, line, level) == found:
                yield Explanation(stuck_address=((line, level),))


def with_stuck_address(content: bytes, line: int, level: int) -> bytes:
    """What is read where an address line of the chip stays at a level."""
    half = 1 << line
    blocks = (content[start : start + half] for start in range(level * half, len(content), 2 * half))
    return b"".join(block + block for block in blocks)


def _address_crossed(should: bytes, found: bytes, lines: int) -> Iterator[Explanation]:
    there, here = _signatures(should, lines), _signatures(found, lines)
    for order in islice(_orders(there, here), _MOST_TRIALS):
        if with_address_order(should, order) == found:
            yield Explanation(address=order)


Signature = frozenset[tuple[int, int]]


def _signatures(content: bytes, lines: int, table: bytes | None = None) -> list[Signature]:
    """For each address line how often each byte stands where the line is high; bytes changed by ``table``."""
    seen = content.translate(table) if table else content
    return [frozenset(Counter(_high_half(seen, line)).items()) for line in range(lines)]


def _high_half(content: bytes, line: int) -> bytes:
    half = 1 << line
    if half == 1:
        return content[1::2]
    return b"".join(content[start : start + half] for start in range(half, len(content), 2 * half))


def _orders(there: list[Signature], here: list[Signature]) -> Iterator[tuple[int, ...]]:
    """Ways to match lines of equal signature, those that leave lines alone first; none where signatures differ."""
    if Counter(there) != Counter(here):
        return
    groups = [(_lines_with(here, each), _lines_with(there, each)) for each in dict.fromkeys(here)]
    choices = [list(islice(_matches(mine, theirs), 24)) for mine, theirs in groups]
    for choice in product(*choices):
        matched = {line: other for pairs in choice for line, other in pairs}
        yield tuple(matched[line] for line in range(len(here)))


def _lines_with(signatures: list[Signature], wanted: Signature) -> list[int]:
    return [line for line, each in enumerate(signatures) if each == wanted]


def _matches(mine: list[int], theirs: list[int]) -> Iterator[list[tuple[int, int]]]:
    same = [line for line in mine if line in theirs]
    free = [line for line in mine if line not in theirs]
    rest = [line for line in theirs if line not in mine]
    for order in permutations([*same, *rest]):
        yield list(zip([*same, *free], order, strict=True))


def with_address_order(content: bytes, order: tuple[int, ...]) -> bytes:
    """What is read where line i of the reader goes to line ``order[i]`` of the chip."""
    addresses = [0]
    for line in order:
        addresses += [address | 1 << line for address in addresses]
    return bytes(map(content.__getitem__, addresses))


def with_data_order(content: bytes, order: tuple[int, ...]) -> bytes:
    """What is read where bit i of the reader comes from data line ``order[i]`` of the chip."""
    return content.translate(_data_table(order))


def _data_table(order: tuple[int, ...]) -> bytes:
    return bytes(sum((value >> bit & 1) << to for to, bit in enumerate(order)) for value in range(256))


def _both_crossed(should: bytes, found: bytes, lines: int, bits: int) -> Iterator[Explanation]:
    """Any crossing of address lines together with one crossed pair of data lines."""
    for pair in combinations(range(bits), 2):
        data = _swapped(bits, pair)
        crossed = with_data_order(should, data)
        for each in _address_crossed(crossed, found, lines):
            yield Explanation(address=each.address, data=data)


def _swapped(count: int, pair: tuple[int, int]) -> tuple[int, ...]:
    order = list(range(count))
    order[pair[0]], order[pair[1]] = pair[1], pair[0]
    return tuple(order)


def _nearly(should: bytes, found: bytes, lines: int, bits: int) -> Explanation | None:
    """One crossed pair or stuck line that leaves at most a quarter of the differences."""
    bound = _differences(should, found) // 4
    best = min(_single(should, found, lines, bits), key=lambda each: each.remaining, default=None)
    return best if best and best.remaining <= bound else None


def _single(should: bytes, found: bytes, lines: int, bits: int) -> Iterator[Explanation]:
    for pair in combinations(range(bits), 2):
        order = _swapped(bits, pair)
        yield Explanation(data=order, remaining=_differences(with_data_order(should, order), found))
    for bit, level in product(range(bits), (0, 1)):
        table = bytes(value & ~(1 << bit) | level << bit for value in range(256))
        yield Explanation(stuck_data=((bit, level),), remaining=_differences(should.translate(table), found))
    for pair in combinations(range(lines), 2):
        order = _swapped(lines, pair)
        yield Explanation(address=order, remaining=_differences(with_address_order(should, order), found))


def _differences(one: bytes, other: bytes) -> int:
    return sum(map(int.__ne__, one, other))
