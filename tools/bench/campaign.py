"""Faulty machines in lanes: a fault at every pin of Lapwing's chips, the kinds in turn."""

from __future__ import annotations

import time
from collections.abc import Iterator

from figures import Figure, spread
from lapwing import Lapwing

from latchwork.engines.compiled.lanes.interpreter import interpreter
from latchwork.engines.compiled.lanes.machines import FaultyMachines
from latchwork.netlist import Netlist, edits
from latchwork.netlist.netlist import NO_NET, PinRef
from latchwork.parts import Direction

CLOCKS = 20_000
RUNS = 3
AT_SPEED = 1_000
"""Clocks in which lanes alone are timed."""

SIGNALS = (Direction.INPUT, Direction.OUTPUT, Direction.BOTH)


def faults(netlist: Netlist) -> Iterator[Netlist]:
    """Stuck low, stuck high, open, swapped with the next pin of the chip, bridged with it."""
    number = 0
    for chip, row in enumerate(netlist.chips):
        kinds = netlist.part_of(chip).pins
        pins = [pin for pin, net in enumerate(row.pins) if net != NO_NET and kinds[pin].direction in SIGNALS]
        for pin, following in zip(pins, pins[1:] + pins[:1], strict=True):
            number += 1
            found = _fault(netlist, number % 5, PinRef(chip, pin), PinRef(chip, following))
            if found is not netlist:
                yield found


def _fault(netlist: Netlist, kind: int, at: PinRef, other: PinRef) -> Netlist:
    if kind < 2:
        return edits.stuck(netlist, at, kind)
    if kind == 2:
        return edits.opened(netlist, at)
    if kind == 3:
        return edits.swapped(netlist, at, other)
    a, b = (netlist.chips[each.chip].pins[each.pin] for each in (at, other))
    return netlist if {a, b} <= {netlist.high, netlist.low} else edits.bridged(netlist, a, b)


def campaign_rows(lapwing: Lapwing, healthy: float) -> list[Figure]:
    """``healthy``: clocks a second of one machine in general code, measured in this run."""
    netlist = lapwing.model.netlist
    mixed = list(faults(netlist))
    watch = sorted({net for bus in netlist.buses for net in bus.nets})
    interpreter()
    whole, alone = [], 0
    for _ in range(RUNS):
        start = time.perf_counter()
        machines = FaultyMachines(netlist, mixed, lapwing.contents, watch=watch, drop=True)
        machines.run(2 * CLOCKS)
        clocks = machines.machine_ticks / 2
        whole.append(clocks / (time.perf_counter() - start))
        alone = len(machines.alone)
        lanes = [fault for number, fault in enumerate(mixed) if number not in machines.alone]
    note = (
        f"{len(mixed)} faults, each machine until a bus is seen to differ or {CLOCKS:,} clocks are over; {alone} of "
        "the machines had an engine of their own, because a loop stays open in them"
    )
    ratios = [each / healthy for each in whole]
    ratio = spread("engine.fault_campaign_clocks_s", ratios, "of a healthy machine", "higher", 0.8)
    return [{**ratio, "note": note}, _lanes(lapwing, lanes, watch)]


def _lanes(lapwing: Lapwing, lanes: list[Netlist], watch: list[int]) -> Figure:
    """Machine-clocks a second once the lanes stand, of machines that are lanes to the end."""
    netlist, contents = lapwing.model.netlist, lapwing.contents
    trial = FaultyMachines(netlist, lanes, contents)
    trial.run(2 * RUNS * AT_SPEED)
    lanes = [fault for number, fault in enumerate(lanes) if number not in trial.alone]
    machines = FaultyMachines(netlist, lanes, contents, watch=watch)
    rates = []
    for _ in range(RUNS):
        start = time.perf_counter()
        machines.run(2 * AT_SPEED)
        rates.append(AT_SPEED * len(lanes) / (time.perf_counter() - start))
    found = spread("engine.fault_lanes_clocks_s", rates, "machine-clocks/s", "higher")
    return {**found, "note": f"{len(lanes)} machines, all to the end; set-up not counted"}
