"""Lanes by microstep: each control word at work is a lane, with the levels that follow from it.

The clock is not known in a lane: both of its halves belong to the step. Rows with the same word, at the same address
where the word does not go through a control register, share a lane.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from latchwork.analysis.control_words import CLEARED, ControlWords, used_rows
from latchwork.analysis.levels import Bit, Given, Lanes, Leaf
from latchwork.model import Row


@dataclass(frozen=True)
class Step:
    """A lane: the rows whose word is at work in it; none while the control register is cleared."""

    word: int
    known: int  # address bits that all rows of the lane agree on
    address: int
    rows: tuple[Row, ...]
    what: str = ""


def steps_of(words: ControlWords) -> tuple[Step, ...]:
    """The steps of a machine; none without a control program."""
    return () if words.control is None else tuple(_steps(words))


def lanes_of(words: ControlWords, steps: tuple[Step, ...]) -> Lanes:
    """A lane for each step."""
    return Lanes(words.wiring, len(steps), _given(words, steps))


def _steps(words: ControlWords) -> Iterable[Step]:
    assert words.control is not None
    useful = ~words.control.dont_care
    found: dict[tuple[int, int, int], list[Row]] = {}
    for row in used_rows(words.control):
        known, address = _address(row, (1 << len(words.address_at)) - 1)
        found.setdefault((row.word & useful, known, address), []).append(row)
    for (word, known, address), rows in found.items():
        yield Step(word, known, address, tuple(rows))
    if words.registered:
        everything = (1 << len(words.control.word_nets)) - 1
        cleared = words.cleared(everything)
        if cleared is not None and cleared not in {word for word, _, _ in found}:
            yield Step(cleared, 0, 0, (), CLEARED)


def _address(row: Row, bits: int) -> tuple[int, int]:
    """The address bits that a row's addresses agree on, and their levels."""
    ones = zeros = bits
    for address in row.addresses:
        ones &= address
        zeros &= ~address
    return (ones | zeros) & bits, ones & bits


def _given(words: ControlWords, steps: tuple[Step, ...]) -> Given:
    full = (1 << len(steps)) - 1
    leaves: dict[Leaf, Bit] = {}
    for leaf, bit in words.word_at.items():
        one = _lanes(step.word >> bit & 1 for step in steps)
        leaves[leaf] = Bit(one, full ^ one)
    for leaf, bit in words.address_at.items():
        known = _lanes(step.known >> bit & 1 for step in steps)
        one = _lanes(step.address >> bit & 1 for step in steps)
        leaves[leaf] = Bit(one | full ^ known, (full ^ one) | full ^ known)
    nets = {leaf.place: bit for leaf, bit in leaves.items() if leaf.kind == "net"}
    states = {leaf: bit for leaf, bit in leaves.items() if leaf.kind != "net"}
    return Given(nets, states, {}, words.contents)


def _lanes(levels: Iterable[int]) -> int:
    return int("".join(str(level) for level in levels)[::-1] or "0", 2)
