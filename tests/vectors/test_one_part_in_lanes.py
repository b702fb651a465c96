"""One part in lanes against the oracle, part by part; stuck lanes against the part with the fault built in.

The oracle follows docs/semantics.md; both read the same behaviours, so this is a check of the rounds, not of the parts.
"""

from __future__ import annotations

from random import Random

import pytest

from latchwork.analysis.one_part.elementary import elementary
from latchwork.analysis.one_part.faults import faults_of, faulty, slot_of
from latchwork.analysis.one_part.lanes_bench import LanesBench
from latchwork.analysis.one_part.program import Program
from latchwork.chips import catalogue
from latchwork.parts import Floating, Part
from latchwork.problems import LatchworkError
from latchwork.tools.vectors.judge import Judge
from latchwork.tools.vectors.tester import Socket, checked

LETTERS = "L", "H"


def suited() -> list[Part]:
    found = []
    for entry in catalogue.entries():
        part = entry.in_family(entry.families[0], Floating.UNKNOWN)
        try:
            checked(part)
        except LatchworkError:
            continue
        if not part.behaviour.memories:  # their cells wake up with other values
            found.append(part)
    return found


def levels_over_time(tester: Socket, steps: int, seed: int) -> list[dict[int, int]]:
    random = Random(seed)
    now = dict.fromkeys((*tester.inputs, *tester.shared), 0)
    found = []
    for _ in range(steps):
        for pin in random.sample(list(now), min(len(now), random.choice((1, 2)))):
            now[pin] ^= 1
        found.append(dict(now))
    return found


def started(part: Part, judge: Judge, stuck: dict[int, tuple[int, int]] | None = None) -> LanesBench:
    """The lanes with what the oracle holds once all inputs are low."""
    program = Program(part)
    judge.put(dict.fromkeys((*Socket(part).inputs, *Socket(part).shared), 0))
    oracle = judge._oracle
    states = {
        name: [oracle.state(0, name) >> bit & 1 for bit in range(len(slots))]
        for name, slots in program.state_slots.items()
    }
    return LanesBench(program, 1, stuck, states=states)


def seen(bench: LanesBench, tester: Socket, pin: int) -> str:
    enabled, value = bench.pin(pin)
    if pin in tester.pulled_up:
        return LETTERS[not enabled or value]
    return LETTERS[value] if enabled else "Z"


def compare(tester: Socket, bench: LanesBench, judge: Judge, steps: list[dict[int, int]]) -> None:
    for number, levels in enumerate(steps):
        bench.put(levels)
        judge.put(levels)
        for pin in tester.outputs:
            assert seen(bench, tester, pin) == judge.sees(pin), f"step {number}, pin {tester.part.pins[pin].sheet}"


@pytest.mark.parametrize("part", suited(), ids=lambda part: part.name)
def test_lanes_do_what_the_oracle_does(part: Part) -> None:
    tester, judge = Socket(part), Judge(Socket(part), seed=5)
    compare(tester, started(part, judge), judge, levels_over_time(tester, 40, 1))


@pytest.mark.parametrize("part", suited(), ids=lambda part: part.name)
def test_a_part_in_elementary_operations_is_the_same_part(part: Part) -> None:
    plain = elementary(part)
    tester, judge = Socket(part), Judge(Socket(part), seed=6)
    compare(tester, started(plain, judge), judge, levels_over_time(tester, 40, 2))


@pytest.mark.parametrize("name", ["74LS00", "74LS161", "74LS138", "74LS595", "74LS74", "74LS373", "74LS85"])
def test_a_stuck_lane_is_the_part_with_the_fault_built_in(name: str) -> None:
    part = elementary(catalogue.find(name))
    tester, program = Socket(part), Program(part)
    steps = levels_over_time(tester, 24, 3)
    for fault in faults_of(part):
        judge = Judge(tester, faulty(part, fault), seed=4)
        stuck = {slot_of(program, fault): (0, 1) if fault.level else (1, 0)}
        compare(tester, started(part, judge, stuck), judge, steps)


def test_an_unknown_net_is_told_as_such() -> None:
    judge = Judge(Socket(catalogue.find("74HC377")))
    outputs = Socket(catalogue.find("74HC377")).outputs
    assert {judge.sees(pin) for pin in outputs} == {"?"}
