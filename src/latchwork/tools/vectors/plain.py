"""Vectors for a part that keeps nothing: each lane of the bench is a candidate, one run a fault.

All levels of the inputs are candidates where they are few; a fault that none of them shows can't be seen. Where they
are many, candidates are random ones, walking ones and all that differ from these in one bit.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

from latchwork.analysis.one_part.faults import Fault, faults_of, slot_of
from latchwork.analysis.one_part.lanes_bench import LanesBench
from latchwork.analysis.one_part.program import Program
from latchwork.reports.vectors import Vector
from latchwork.tools.vectors.found import Found
from latchwork.tools.vectors.tester import Socket

ALL_LEVELS = 15  # inputs up to which every combination is a candidate
BASES = 48
TRIED = 256  # candidates looked at for one fault

Watched = dict[int, tuple[int, int, int]]  # pin -> lanes in which it shall be low, high, let go


@dataclass(frozen=True)
class Candidates:
    """``levels``: lanes in which each pin is set high; ``released``: lanes in which shared pins are all let go."""

    count: int
    levels: dict[int, int]
    released: int
    complete: bool

    @property
    def full(self) -> int:
        return (1 << self.count) - 1


def plain_vectors(tester: Socket, seed: int) -> Found:
    program = Program(tester.part)
    candidates = _candidates(tester, Random(seed))
    driven, watched = _expected(tester, program, candidates)
    shown = {
        fault: _shown(tester, _runs(tester, program, candidates, driven, fault), watched)
        for fault in faults_of(tester.part)
    }
    chosen = _ordered(candidates, _cover([lanes for lanes in shown.values() if lanes]))
    hidden = [fault for fault, lanes in shown.items() if not lanes] if candidates.complete else []
    vectors = [Vector(_text(tester, candidates, driven, watched, lane)) for lane in chosen]
    return Found(vectors, [fault for fault, lanes in shown.items() if lanes], hidden)


def _candidates(tester: Socket, random: Random) -> Candidates:
    pins = [*tester.inputs, *tester.shared]
    count = len(pins) + bool(tester.shared)
    if count <= ALL_LEVELS:
        numbers: Iterable[int] = range(1 << count)
    else:
        numbers = _pool(tester, count, random)
    columns = _columns(list(numbers), count)
    released = columns[-1] if tester.shared else 0
    return Candidates(len(list(numbers)), dict(zip(pins, columns, strict=False)), released, count <= ALL_LEVELS)


def _columns(numbers: list[int], count: int) -> list[int]:
    """For each bit the lanes in which it is 1."""
    return [int("".join(str(number >> bit & 1) for number in reversed(numbers)), 2) for bit in range(count)]


def _pool(tester: Socket, count: int, random: Random) -> list[int]:
    full = (1 << count) - 1
    bases = [0, full, *_alike(tester, random), *(random.getrandbits(count) for _ in range(BASES))]
    flipped = [base ^ 1 << bit for base in bases for bit in range(count)]
    return sorted({*bases, *flipped})


def _alike(tester: Socket, random: Random) -> Iterable[int]:
    """Candidates in which vectors of the same width carry the same number, as equality has to be tried."""
    pins = [*tester.inputs, *tester.shared]
    vectors = [[pins.index(pin) for pin in places] for places in tester.part.ports.values() if set(places) <= set(pins)]
    for _ in range(BASES):
        rest, number = random.getrandbits(len(pins)), random.getrandbits(32)
        for places in (each for each in vectors if len(each) > 1):
            for bit, place in enumerate(places):
                rest = rest & ~(1 << place) | (number >> bit & 1) << place
        yield rest


def _run(
    program: Program, candidates: Candidates, driven: dict[int, int], floating: int, fault: Fault | None = None
) -> LanesBench:
    full = candidates.full
    stuck = {slot_of(program, fault): (0, full) if fault.level else (full, 0)} if fault else {}
    bench = LanesBench(program, full, stuck, floating=lambda pin: floating)
    bench.put(candidates.levels, driven)
    return bench


def _expected(tester: Socket, program: Program, candidates: Candidates) -> tuple[dict[int, int], Watched]:
    """Where the tester sets shared pins, and what a sound part shows whatever floats."""
    full = candidates.full
    let_go = candidates.full & ~candidates.released
    driven = dict.fromkeys(tester.shared, 0)
    for _ in range(2):  # what the part drives may hang on what the tester sets
        bench = _run(program, candidates, driven, 0)
        driven = {pin: let_go & ~bench.pin(pin)[0] for pin in tester.shared}
    low, high = (_run(program, candidates, driven, floating) for floating in (0, full))
    watched = {}
    for pin in (*tester.outputs, *tester.shared):
        alike = [a & b for a, b in zip(_seen(tester, low, pin), _seen(tester, high, pin), strict=True)]
        free = full & ~driven.get(pin, 0)
        watched[pin] = (alike[0] & free, alike[1] & free, alike[2] & free)
    return driven, watched


def _seen(tester: Socket, bench: LanesBench, pin: int) -> tuple[int, int, int]:
    """Lanes in which a pin is seen low, high, let go."""
    enabled, value = bench.pin(pin)
    if pin in tester.pulled_up:
        return enabled & ~value, bench.full & ~enabled | value, 0
    return enabled & ~value, value, bench.full & ~enabled


def _runs(
    tester: Socket, program: Program, candidates: Candidates, driven: dict[int, int], fault: Fault
) -> list[LanesBench]:
    """The faulty part, for either level of what floats."""
    return [
        _run(program, candidates, driven, each, fault) for each in ((0, candidates.full) if tester.shared else (0,))
    ]


def _shown(tester: Socket, runs: list[LanesBench], watched: Watched) -> int:
    """Lanes in which the fault is seen."""
    result = runs[0].full
    for bench in runs:
        seen = 0
        for pin, expected in watched.items():
            for wanted, got in zip(expected, _seen(tester, bench, pin), strict=True):
                seen |= wanted & ~got
        result &= seen
    return result


def _cover(shown: list[int]) -> list[int]:
    """Few lanes such that each fault is seen in one: the rarest fault first, by the lane that shows most others."""
    left, chosen = sorted(shown, key=int.bit_count), []
    while left:
        tried = _spread(left[0])
        best = max(tried, key=lambda lane: sum(lanes >> lane & 1 for lanes in left))
        chosen.append(best)
        left = [lanes for lanes in left if not lanes >> best & 1]
    for lane in list(chosen):
        rest = sum(1 << other for other in chosen if other != lane)
        if all(lanes & rest for lanes in shown):
            chosen.remove(lane)
    return chosen


def _spread(lanes: int) -> list[int]:
    """The lanes, or some of them in even distances."""
    text = bin(lanes)[:1:-1]
    all_of_them = [place for place, letter in enumerate(text) if letter == "1"]
    return all_of_them[:: max(1, len(all_of_them) // TRIED)]


def _ordered(candidates: Candidates, chosen: list[int]) -> list[int]:
    """So that few switches move from one to the next."""
    numbers = {
        lane: tuple(levels >> lane & 1 for levels in (*candidates.levels.values(), candidates.released))
        for lane in chosen
    }
    left = sorted(chosen, key=lambda lane: (sum(numbers[lane]), lane))
    order: list[int] = []
    while left:
        near = min(left, key=lambda lane: _moved(numbers[lane], numbers[order[-1]])) if order else left[0]
        order.append(near)
        left.remove(near)
    return order


def _moved(a: tuple[int, ...], b: tuple[int, ...]) -> int:
    return sum(x != y for x, y in zip(a, b, strict=True))


def _text(tester: Socket, candidates: Candidates, driven: dict[int, int], watched: Watched, lane: int) -> str:
    return "".join(_letter(candidates, driven, watched, lane, pin) for pin in range(len(tester.part.pins)))


def _letter(candidates: Candidates, driven: dict[int, int], watched: Watched, lane: int, pin: int) -> str:
    if pin in candidates.levels and driven.get(pin, candidates.full) >> lane & 1:
        return str(candidates.levels[pin] >> lane & 1)
    if pin not in watched:
        return "N"
    return next((letter for letter, lanes in zip("LHZ", watched[pin], strict=True) if lanes >> lane & 1), "X")
