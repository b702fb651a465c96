"""A machine tried at a clock: with delays, and beside it without, clock by clock until the two are no longer alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from latchwork.analysis.arrival.graph import Graph
from latchwork.engines.delayed.simulation import Delayed, Late
from latchwork.engines.oracle import Oracle
from latchwork.netlist import ChipId, Netlist
from latchwork.parts import TimerKind

SETTLED = 8
"""Clocks after the last start-up timer has run out, before a trial begins: reset is over then."""
PATIENCE = 100_000


@dataclass(frozen=True)
class Unlike:
    """After ``clock`` clocks state ``name`` of ``chip`` held ``found`` where ``expected`` was right."""

    clock: int
    chip: ChipId
    name: str
    expected: int
    found: int


@dataclass(frozen=True)
class Trial:
    """``clocks``: how many went well. ``late`` and ``unlike``: the first of each, None where all went well.
    ``fights``: nets on which two outputs drove against each other at some time."""

    clocks: int
    late: Late | None
    unlike: Unlike | None
    fights: int

    @property
    def well(self) -> bool:
        return self.late is None and self.unlike is None


def tried(
    graph: Graph, contents: Mapping[ChipId, bytes], period: int, clocks: int, *, high: float = 0.5, skip: int = 0
) -> Trial:
    """Run ``clocks`` clocks of ``period`` ps, from after reset and ``skip`` clocks more, with the bytes of ``contents``
    in the memories. Stops at the first difference."""
    right = at_rest(graph.wiring.netlist, contents, skip)
    delayed = Delayed(graph, right, period, high=high)
    for clock in range(1, clocks + 1):
        delayed.run(1)
        if not right.run(1):
            break
        _to_low(right)
        unlike = _unlike(delayed, right, clock)
        if unlike or delayed.late:
            return Trial(clock - 1, delayed.late[0] if delayed.late else None, unlike, len(delayed.fights))
    return Trial(clocks, None, None, len(delayed.fights))


def at_rest(netlist: Netlist, contents: Mapping[ChipId, bytes], skip: int = 0) -> Oracle:
    """A machine after reset and ``skip`` clocks more, at rest with its main clock low."""
    machine = Oracle(netlist, contents)
    _past_reset(machine)
    machine.run(skip)
    _to_low(machine)
    return machine


def _past_reset(machine: Oracle) -> None:
    netlist = machine.netlist
    timers = [
        (chip, timer.name)
        for chip in range(len(netlist.chips))
        for timer in netlist.part_of(chip).behaviour.timers
        if timer.kind is TimerKind.STARTUP
    ]
    for _ in range(PATIENCE):
        if all(machine.state(chip, name) for chip, name in timers) or not machine.tick():
            break
    machine.run(SETTLED)


def _to_low(machine: Oracle) -> None:
    """To after the falling edge of the clock."""
    while machine.value(machine.netlist.clock) == 1 and machine.tick():
        pass


def _unlike(delayed: Delayed, right: Oracle, clock: int) -> Unlike | None:
    for chip in delayed.chips:
        behaviour = chip.part.behaviour
        for index in range(len(behaviour.registers) + len(behaviour.latches)):
            name, found = chip.names[index], chip.states[index]
            expected = right.state(chip.chip, name)
            if expected is not None and expected != found:
                return Unlike(clock, chip.chip, name, expected, found)
    return None
