"""Counting through: the sequences of pulses that a counter's upper bits and its carry need, which a search seldom hits.

From zero, 2**(w-1) - 1 pulses and then half as many each time bring a counter of w bits to every value in which one bit
alone is missing from all ones: 0111, 1011, 1101, 1110, 1111; one pulse more brings it round to zero.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.tools.vectors.bench import Act, Specimens
from latchwork.tools.vectors.tester import Socket

LEAST, MOST = 3, 14  # bits of a register worth counting through
BUDGET = 40_000  # pulses


def counted(specimens: Specimens) -> list[Act]:
    """Acts that show faults which are still open, done on the specimens."""
    kept: list[Act] = []
    start = specimens.work
    for acts in _tries(specimens.tester):
        if not specimens.open_lanes() or specimens.work - start > BUDGET:
            break
        shown, saved = specimens.shown, specimens.save()
        done = [act for act in acts if specimens.do(act) is not None]
        if specimens.shown != shown:
            kept += done
        else:
            specimens.restore(saved)
    return kept


def _tries(tester: Socket) -> Iterator[list[Act]]:
    widths = sorted({each.width for each in tester.part.behaviour.registers if LEAST <= each.width <= MOST})
    plain = [pin for pin in tester.inputs if pin not in tester.careful]
    ways = [{}, dict.fromkeys(plain, 0), dict.fromkeys(plain, 1)] if plain else [{}]
    for width in widths:
        for levels in ways:
            for clock in tester.careful:
                for first in tester.careful:
                    yield [Act(levels), Act({}, first), *(Act({}, clock, times) for times in _steps(width))]


def _steps(width: int) -> list[int]:
    return [(1 << width - 1) - 1, *(1 << bit for bit in reversed(range(width - 1))), 1]
