"""What a netlist has in it, by kind, so that a comparison over many can say what it has compared."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from latchwork.engines.oracle.grouping import grouped
from latchwork.engines.oracle.wiring import Wiring, drive_of, wire
from latchwork.netlist import Netlist
from latchwork.parts import OutputKind, TieKind, TimerKind
from latchwork.parts.part import Direction

EVERY = (
    *("gate", "register", "latch", "asynchronous clear", "gated clock", "rippled clock", "both edges", "three-state"),
    *("two-way bus", "open collector", "keeper", "pull", "series resistor", "switch to a rail", "switch between nets"),
    *("level-written memory", "clocked memory", "loop", "pulse", "delay", "several clocks", "reset"),
)


def constructs(netlist: Netlist) -> Counter[str]:
    """How often each construct occurs."""
    wiring = wire(netlist, known=False)
    found = Counter([*_chips(netlist), *_ties(netlist), *_clocks(netlist, wiring), *_drives(wiring)])
    found["loop"] = sum(grouped(wiring, ()).loops)
    return found


def _chips(netlist: Netlist) -> Iterator[str]:
    for chip in range(len(netlist.chips)):
        behaviour = netlist.part_of(chip).behaviour
        yield from ("register" for _ in behaviour.registers)
        yield from ("latch" for _ in behaviour.latches)
        yield from ("asynchronous clear" for state in (*behaviour.registers, *behaviour.latches) if state.levels)
        yield from ("both edges" for register in behaviour.registers if len(register.updates) > 1)
        yield from ("keeper" for _ in behaviour.keepers)
        for write in (write for memory in behaviour.memories for write in memory.writes):
            yield "clocked memory" if write.clocked else "level-written memory"
        names = {TimerKind.PULSE: "pulse", TimerKind.DELAY: "delay", TimerKind.STARTUP: "reset"}
        yield from (names[timer.kind] for timer in behaviour.timers if timer.kind in names)
    oscillators = [timer for part in netlist.parts for timer in part.behaviour.timers
                   if timer.kind is TimerKind.OSCILLATOR]  # fmt: skip
    yield from ("several clocks" for _ in oscillators[1:])


def _ties(netlist: Netlist) -> Iterator[str]:
    rails = {netlist.high, netlist.low}
    for chip in range(len(netlist.chips)):
        for tie in netlist.part_of(chip).behaviour.ties:
            at_rail = rails & {netlist.nets_of(chip, tie.a)[0], netlist.nets_of(chip, tie.b)[0]}
            if tie.kind is TieKind.RESISTOR:
                yield "pull" if at_rail else "series resistor"
            else:
                yield "switch to a rail" if at_rail else "switch between nets"


def _drives(wiring: Wiring) -> Iterator[str]:
    for number, drive in enumerate(wiring.drives):
        chip, row = drive_of(wiring, number)
        if row.kind is OutputKind.THREE_STATE:
            yield "three-state"
        if row.kind is OutputKind.OPEN_COLLECTOR:
            yield "open collector"
        if row.kind is OutputKind.PUSH_PULL and not drive.bound.slots:
            yield "gate"
        pins = [wiring.netlist.part_of(chip).pins[index] for index in wiring.netlist.part_of(chip).ports[row.port]]
        if row.kind is OutputKind.THREE_STATE and any(pin.direction is Direction.BOTH for pin in pins):
            yield "two-way bus"


def _clocks(netlist: Netlist, wiring: Wiring) -> Iterator[str]:
    """Clocks that come through a gate, and those that are another register's output."""
    driven = {net: drive for drive in wiring.drives for net in drive.outputs}
    for chip in range(len(netlist.chips)):
        for register in netlist.part_of(chip).behaviour.registers:
            for update in register.updates:
                for net in wiring.bind(chip, update.clock).nets:
                    drive = driven.get(net)
                    if drive is not None and net != netlist.clock:
                        yield "rippled clock" if drive.bound.slots else "gated clock"
