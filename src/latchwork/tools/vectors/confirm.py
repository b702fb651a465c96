"""Vectors held against the oracle: the sound part answers as expected, each faulty one does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from latchwork.analysis.one_part.faults import Fault, faulty
from latchwork.parts import Part
from latchwork.reports.vectors import Vector
from latchwork.tools.vectors.judge import Judge
from latchwork.tools.vectors.tester import Socket

SEEDS = (1, 2, 3)  # power-up states
LOOKED_AT = "LHZ"


def confirmed(tester: Socket, vectors: list[Vector], faults: Iterable[Fault]) -> list[Fault]:
    """The faults that the vectors show, from every power-up state that is tried."""
    seeds = SEEDS if tester.keeps_state or tester.shared else SEEDS[:1]
    return [fault for fault in faults if all(_differs(tester, fault, vectors, seed) for seed in seeds)]


def certain(tester: Socket, vectors: list[Vector]) -> list[Vector]:
    """The vectors with X wherever the sound part's answer hangs on its power-up state or on what floats."""
    judge = Judge(tester)
    result = []
    for vector in vectors:
        judge.follow(vector)
        letters = [
            letter if letter not in LOOKED_AT or judge.sees(pin) == letter else "X"
            for pin, letter in enumerate(vector.levels)
        ]
        result.append(replace(vector, levels="".join(letters)))
    return result


def surprises(tester: Socket, part: Part, vectors: list[Vector], seed: int) -> Iterator[tuple[int, str, str]]:
    """(vector, pin, what was there) wherever a part does not answer as expected."""
    judge = Judge(tester, part, seed)
    for number, vector in enumerate(vectors):
        judge.follow(vector)
        for pin, letter in enumerate(vector.levels):
            if letter in LOOKED_AT and judge.sees(pin) != letter:
                yield number, part.pins[pin].sheet, judge.sees(pin)


def _differs(tester: Socket, fault: Fault, vectors: list[Vector], seed: int) -> bool:
    return next(surprises(tester, faulty(tester.part, fault), vectors, seed), None) is not None
