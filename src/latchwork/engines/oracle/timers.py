"""Timers that no net triggers, and the times of all: oscillators, start-up delays, hand-operated sources."""

from __future__ import annotations

from latchwork.engines.oracle.events import Event, Queue
from latchwork.engines.oracle.known import ONE, ZERO, Pair
from latchwork.engines.oracle.wiring import Wiring
from latchwork.netlist import ChipId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Timer, TimerKind
from latchwork.problems import Label, LatchworkError, Problem

Times = dict[tuple[ChipId, str], int]


def times_of(netlist: Netlist) -> Times:
    """The time of each timer in picoseconds. Raises LatchworkError (R201) where a chip does not state it."""
    found, problems = {}, []
    for chip in range(len(netlist.chips)):
        for timer in netlist.part_of(chip).behaviour.timers:
            if timer.kind is TimerKind.HAND:
                continue
            time = dict(netlist.chips[chip].parameters).get(timer.time)
            least = 2 if timer.kind is TimerKind.OSCILLATOR else 1
            if isinstance(time, int) and time >= least:
                found[chip, timer.name] = time
            else:
                problems.append(_no_time(netlist, chip, timer, time, least))
    if problems:
        raise LatchworkError(problems)
    return found


def _no_time(netlist: Netlist, chip: ChipId, timer: Timer, time: object, least: int) -> Problem:
    row = netlist.chips[chip]
    return Problem(
        "R201",
        f'{netlist.part_of(chip).name} {row.reference} needs "{timer.time}" in picoseconds, at least {least}; '
        f"it has {'none' if time is None else repr(time)}",
        (Label(row.position),),
        "state the time where the part is placed",
    )


class Oscillators:
    """Turns oscillators at each half period and lets start-up times pass. A period of an odd number of picoseconds
    has the shorter half low."""

    def __init__(self, wiring: Wiring, times: Times) -> None:
        self.halves: dict[int, tuple[int, int]] = {}  # slot -> time low, time high
        self.startups: dict[int, int] = {}
        for chip in range(len(wiring.netlist.chips)):
            for timer in wiring.netlist.part_of(chip).behaviour.timers:
                slot = wiring.slot_named[chip, timer.name]
                if timer.kind is TimerKind.OSCILLATOR:
                    period = times[chip, timer.name]
                    self.halves[slot] = period // 2, period - period // 2
                elif timer.kind is TimerKind.STARTUP:
                    self.startups[slot] = times[chip, timer.name]

    def start(self, queue: Queue) -> None:
        for slot, (low, _) in self.halves.items():
            queue.add(low, Event(slot, "turn", ONE))
        for slot, time in self.startups.items():
            queue.add(time, Event(slot, "set", ONE))

    def turn(self, queue: Queue, time: int, event: Event) -> None:
        """Ask for the next half."""
        low, high = self.halves[event.slot]
        following: Pair = ZERO if event.value == ONE else ONE
        queue.add(time + (high if event.value == ONE else low), Event(event.slot, "turn", following))


def hand_slots(wiring: Wiring) -> dict[ChipId, int]:
    """The slot of each chip that is operated by hand."""
    return {
        chip: wiring.slot_named[chip, timer.name]
        for chip in range(len(wiring.netlist.chips))
        for timer in wiring.netlist.part_of(chip).behaviour.timers
        if timer.kind is TimerKind.HAND
    }


def hand_at_clock(wiring: Wiring) -> ChipId | None:
    """The hand-operated source that drives the main clock, where one does."""
    clock = wiring.netlist.clock
    if clock == NO_NET:
        return None
    drivers = {drive.chip for drive in wiring.drives if clock in drive.outputs}
    return next((chip for chip in sorted(hand_slots(wiring)) if chip in drivers), None)
