"""A machine that can be stopped, looked at and taken back: the debugger as a Python object."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches

from latchwork.engines.devices import DeviceError
from latchwork.engines.looks import Looks, together
from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug.machine import Machine
from latchwork.tools.debug.probes import (
    Access,
    Becomes,
    Began,
    Changed,
    Holds,
    Probe,
    Step,
    Trouble,
    place_of,
    value_of,
)
from latchwork.tools.debug.reader import condition, label_address
from latchwork.tools.debug.timeline import CLOCKS, INSTRUCTIONS, Haste, Horizon, Place, Timeline

UNITS = ("tick", "clock", "step", "instruction")
MOST_CLOCKS = 1_000_000
MEGABYTE = 1_000_000
QUICK, SLOW = (65_536, 16_000_000), (256, 1_000_000)
"""Clocks between saved moments, and how far back one can go, if nothing else is asked for; by the engine."""


@dataclass(frozen=True)
class Stop:
    """Where a run stops. ``number`` is what it is called by."""

    number: int
    text: str
    probe: Probe


@dataclass(frozen=True)
class Pause:
    """Why the machine stands. ``kind``: "stop", "until", "reached" (what was asked for), "halt", "clocks", "trouble",
    "device", "interrupted", "nothing" (nothing will ever happen again), "oldest" (nothing older is kept)."""

    kind: str
    reason: str
    stop: int = 0


class Session:
    """``machine``: a ``tools.run.running.Running`` under power, with its program loaded and its devices attached.

    ``every``: clocks between saved moments; fewer make going back quicker and take more memory.
    ``horizon_clocks``, ``horizon_bytes``: how far back one can go, and how much memory that may take. Where memory does
    not suffice, moments are saved less often, and in the end the oldest are given up.
    """

    def __init__(
        self,
        machine: Machine,
        every: int | None = None,
        horizon_clocks: int | None = None,
        horizon_bytes: int = 256 * MEGABYTE,
    ) -> None:
        self.machine = machine
        self.stops: dict[int, Stop] = {}
        self.on_emit: Callable[[str, bytes], object] | None = None
        self._last_number = 0
        self._told = Place(0, 0)
        usual = QUICK if machine.is_quick else SLOW
        self._timeline = Timeline(machine, every or usual[0], horizon_clocks or usual[1], horizon_bytes)
        self._halts = machine.model.statements.halts
        self._timeline.always = Looks(conditions=tuple(((halt.net,), halt.level) for halt in self._halts))
        machine.on_emit = self._emitted

    def _emitted(self, device: str, data: bytes) -> None:
        """Pass on what a device says, unless it was said before the machine was taken back."""
        here = self._timeline.here
        if self.on_emit and not self._timeline.replaying and here > self._told:
            self.on_emit(device, data)

    # Stops

    def _add(self, text: str, probe: Probe) -> Stop:
        self._last_number += 1
        stop = Stop(self._last_number, text, probe)
        self.stops[stop.number] = stop
        return stop

    def stop_at(self, place: str | int) -> Stop:
        """Where an instruction begins at a label or an address of the program. Raises LatchworkError R504."""
        return self._add(f"at {place if isinstance(place, str) else hex(place)}", self._at(place))

    def _at(self, place: str | int) -> Began:
        if self.machine.instructions is None:
            message = "the machine has no microprogram, so that nobody knows where an instruction begins"
            raise _no_place(message, "stop when a condition holds: stop when acc = 3")
        return Began(self.machine, place if isinstance(place, int) else self.address(place))

    def address(self, label: str) -> int:
        """Of a label (see ``reader.label_address``) or a number in text. Raises LatchworkError R504."""
        labels = self.machine.labels
        found = label_address(self.machine, label)
        if found is not None:
            return found
        try:
            return int(label, 0)
        except ValueError:
            tails = {name.rpartition(".")[2]: name for name in labels}
            near = [tails.get(each, each) for each in get_close_matches(label, {*labels, *tails}, n=3)]
            hint = f"near it are {', '.join(near)}" if near else "a label of the program or an address can stand here"
            raise _no_place(f'the program has no label "{label}"', hint) from None

    def stop_at_micro(self, address: int) -> Stop:
        """Where a word of the control store comes to work, by its address. Raises LatchworkError R504."""
        control = self.machine.model.control
        if control is None or not any(address in row.addresses for row in control.rows):
            raise _no_place(f"no step of a microprogram stands at {address:#x} of the control store")
        return self._add(f"at micro {address:#x}", Step(self.machine, lambda at, block, step: at == address))

    def stop_at_step(self, block: str, step: int) -> Stop:
        """Where a step of an instruction comes to work. Raises LatchworkError R504."""
        rows = self.machine.model.control.rows if self.machine.model.control else ()
        blocks = {row.block for row in rows if row.block}
        if block not in blocks:
            near = get_close_matches(block, blocks, n=3)
            hint = f"near it are {', '.join(near)}" if near else ""
            raise _no_place(f'the microprogram has no block "{block}"', hint)
        steps = sorted({row.step for row in rows if row.block == block})
        if step not in steps:
            raise _no_place(f'"{block}" has no step {step}; it has {", ".join(map(str, steps))}')
        probe = Step(self.machine, lambda at, name, number: (name, number) == (block, step))
        return self._add(f"at step {step} of {block}", probe)

    def stop_when(self, text: str) -> Stop:
        """When a condition comes to hold. Raises LatchworkError R501."""
        wanted = condition(self.machine, text)
        return self._add(f"when {wanted.text}", Becomes(wanted))

    def stop_when_changed(self, what: str) -> Stop:
        """When a net, bus, register or cell changes. Raises LatchworkError."""
        return self._add(f"when changed {what}", Changed(value_of(self.machine, what)))

    def stop_when_read(self, cell: str) -> Stop:
        """When a memory shows a cell, ``ram[16]``. Raises LatchworkError."""
        return self._add(f"when read {cell}", Access(self.machine, cell, written=False))

    def stop_when_written(self, cell: str, value: int | None = None) -> Stop:
        """When a cell is written, with a value where one is given. Raises LatchworkError."""
        text = f"when written {cell}" + ("" if value is None else f" = {value}")
        return self._add(text, Access(self.machine, cell, written=True, value=value))

    def stop_when_trouble(self) -> Stop:
        """When the machine does what a bench would show as trouble: a fight, a floating read, ..."""
        return self._add("when trouble", Trouble(self.machine))

    def forget(self, number: int | None = None) -> None:
        """Take a stop away, or all. Raises LatchworkError R506."""
        if number is None:
            self.stops.clear()
        elif self.stops.pop(number, None) is None:
            known = ", ".join(map(str, self.stops)) or "none"
            raise LatchworkError(Problem("R506", f"there is no stop {number}; there are: {known}"))

    # Forward

    def go(self, clocks: int = MOST_CLOCKS) -> Pause:
        """Run until something stops it, past a halt at which it stands; at most so many clocks."""
        return self._run(None, self._after(CLOCKS, clocks, "clocks"))

    def forward(self, count: int = 1, unit: str = "instruction") -> Pause:
        """Go on by ticks, clocks, steps of the microprogram, or instructions, unless something stops it."""
        if unit == "tick":
            bound = self._timeline.here.tick + count
            return self._run(None, Bound(lambda: bound - self._timeline.here.tick, "reached", ticks=2))
        return self._run(None, self._after(self._count_of(unit), count, "reached"), patient=unit == "instruction")

    def until(self, text: str, clocks: int = MOST_CLOCKS) -> Pause:
        """Run until a condition comes to hold, or an instruction begins at a label."""
        probe: Probe
        if re.fullmatch(r"[\w.]+", text.strip()) and label_address(self.machine, text.strip()) is not None:
            probe = self._at(text.strip())
        else:
            probe = Becomes(condition(self.machine, text))
        return self._run(Stop(0, text.strip(), probe), self._after(CLOCKS, clocks, "clocks"))

    def until_probe(self, text: str, probe: Probe, clocks: int = MOST_CLOCKS) -> Pause:
        """Run until a probe hits."""
        return self._run(Stop(0, text, probe), self._after(CLOCKS, clocks, "clocks"))

    def _after(self, unit: int, count: int, kind: str) -> Bound:
        bound = self._timeline.counts[unit] + count
        reason = f"{count} clocks have passed" if kind == "clocks" else ""
        return Bound(lambda: bound - self._timeline.counts[unit], kind, reason)

    def _run(self, until: Stop | None, bound: Bound, patient: bool = False, most: int = MOST_CLOCKS) -> Pause:
        watched = [*self.stops.values(), *([until] if until else ())]
        trouble = Trouble(self.machine, frozenset({"oscillation"}))
        probes = _Any([trouble, *(stop.probe for stop in watched)])
        probes.prime()
        haste = Haste(
            self._timeline, lambda: together((probes.looks(), self._timeline.always)), bound.clocks, probes.prime
        )
        halted, last = self.halted, self.machine.clocks + most
        clocks, stands = self.machine.clocks, 0
        try:
            while True:
                haste.try_it()
                if not self._timeline.step():
                    return Pause("nothing", "nothing happens any more: no clock runs by itself")
                hits = [stop for stop in watched if stop.probe.hit()] if self._timeline.ticked else []
                pause = _hit(hits) or bound.pause()
                if pause:
                    return pause
                halted, was = self.halted, halted
                if halted and not was:
                    return Pause("halt", self._halt_reason())
                if trouble.hit():
                    return Pause("trouble", "some nets do not come to rest")
                clocks, stands = self.machine.clocks, stands + 1 if self.machine.clocks == clocks else 0
                if stands > MOST_CLOCKS:
                    return Pause("nothing", "the main clock stands still")
                if patient and self.machine.clocks >= last:
                    return Pause("clocks", f"{most} clocks have passed")
                if self.machine.interrupted:
                    self.machine.interrupted = False
                    return Pause("interrupted", "it was interrupted by hand")
        except DeviceError as error:
            return Pause("device", error.problems[0].message)
        finally:
            self._told = max(self._told, self._timeline.here)

    @property
    def halted(self) -> bool:
        value = self.machine.simulation.value
        return any(value(halt.net) == halt.level for halt in self._halts)

    def _halt_reason(self) -> str:
        nets = self.machine.model.netlist.nets
        return "it halted, " + " or ".join(f"{nets[halt.net].name} is {halt.level}" for halt in self._halts)

    def _count_of(self, unit: str) -> int:
        if unit not in UNITS:
            raise ValueError(f"{unit} is none of {', '.join(UNITS)}")
        if unit != "clock" and self.machine.instructions is None:
            raise _no_place(f"the machine has no microprogram, and so no {unit}s", "go by clocks or ticks")
        return INSTRUCTIONS if unit == "instruction" else CLOCKS

    # Back

    def back(self, count: int = 1, unit: str = "instruction") -> Pause:
        """Go back by ticks, clocks, steps or instructions: to the last place before here where so many of them began.
        Raises LatchworkError R502 where that is older than what is kept, and stays."""
        here = self._timeline.here
        try:
            if unit == "tick":
                self._timeline.to(Place(max(here.tick - count, self._timeline.first.tick), here.acts))
            else:
                self._timeline.to_count(self._count_of(unit), self._began(self._count_of(unit)) - count)
        except LatchworkError:
            self._timeline.to(here)
            raise
        if self._timeline.here == self._timeline.first:
            return Pause("oldest", "this is where the session began")
        return Pause("reached", "")

    def _began(self, unit: int) -> int:
        """The number of the clock or instruction that would begin next, were it to begin here or after."""
        now, before = self._timeline.counts[unit], self._timeline.before[unit]
        return now if now != before and self._timeline.ticked else now + 1

    def back_until(self, text: str) -> Pause:
        """Go back to the last tick at which a condition held."""
        return self._back_to(Holds(condition(self.machine, text)), f"{text} never held")

    def back_until_changed(self, what: str) -> Pause:
        """Go back to the last tick at which a net, bus, register or cell changed."""
        return self._back_to(Changed(value_of(self.machine, what)), f"{what} never changed")

    def back_until_read(self, cell: str) -> Pause:
        """Go back to the last tick at which a cell was read."""
        return self._back_to(Access(self.machine, cell, written=False), f"{cell} was never read")

    def back_until_written(self, cell: str, value: int | None = None) -> Pause:
        """Go back to the last tick at which a cell was written."""
        return self._back_to(Access(self.machine, cell, written=True, value=value), f"{cell} was never written")

    def back_until_at(self, place: str | int) -> Pause:
        """Go back to the last time an instruction began at a label or address."""
        return self._back_to(self._at(place), f"no instruction began at {place}")

    def back_to_stop(self) -> Pause:
        """Go back to the last tick at which any of the stops would have stopped it."""
        return self._back_to(_Any([stop.probe for stop in self.stops.values()]), "none of the stops was met")

    def _back_to(self, probe: Probe, never: str) -> Pause:
        if not self._timeline.to_last(probe):
            if self.machine.interrupted:
                self.machine.interrupted = False
                return Pause("interrupted", "it was interrupted by hand, and stands where it was")
            raise LatchworkError(Problem("R503", f"{never} since clock {self.horizon.oldest_clock}"))
        return Pause("reached", "")

    # What hands do

    def set(self, name: str, value: int) -> None:
        """Set switches or buttons by the name of their net or port; recorded. Raises LatchworkError."""
        self._timeline.act("set", name, value)

    def put(self, cell: str, value: int) -> None:
        """Overwrite a cell of a memory, ``ram[16]``; recorded. Raises LatchworkError."""
        space, address = place_of(self.machine, cell)
        self._timeline.act("put", space, (address, value))

    def send(self, device: str, data: bytes) -> None:
        """Something from outside for a device; recorded. Raises LatchworkError."""
        self._timeline.act("send", device, data)
        self._told = self._timeline.here

    def __getitem__(self, text: str) -> int | None:
        """What a name, a cell or any condition is worth now."""
        return condition(self.machine, text).value()

    # The horizon

    @property
    def horizon(self) -> Horizon:
        return self._timeline.horizon

    def limit(self, clocks: int | None = None, megabytes: int | None = None, every: int | None = None) -> None:
        """Set the horizon; see the class."""
        self._timeline.limit(clocks, None if megabytes is None else megabytes * MEGABYTE, every)

    @property
    def place(self) -> Place:
        """The tick, and the number of acts done."""
        return self._timeline.here

    def go_to(self, place: Place) -> None:
        """To a place in the past. Raises LatchworkError R502."""
        self._timeline.to(place)


@dataclass(frozen=True)
class Bound:
    """Where a run ends at the latest. ``left``: units to go, of which there are at most ``ticks`` in a clock."""

    left: Callable[[], int]
    kind: str
    reason: str = ""
    ticks: int = 1

    def pause(self) -> Pause | None:
        return Pause(self.kind, self.reason) if self.left() <= 0 else None

    def clocks(self) -> int:
        """So many clocks surely pass before."""
        return self.left() // self.ticks


class _Any:
    def __init__(self, probes: list[Probe]) -> None:
        self._probes = probes

    def prime(self) -> None:
        for probe in self._probes:
            probe.prime()

    def looks(self) -> Looks | None:
        return together(probe.looks() for probe in self._probes)

    def hit(self) -> bool:
        return any([probe.hit() for probe in self._probes])  # noqa: C419 each of them has to look


def _hit(stops: list[Stop]) -> Pause | None:
    if not stops:
        return None
    first = stops[0]
    return Pause("stop" if first.number else "until", first.text, first.number)


def _no_place(message: str, hint: str = "") -> LatchworkError:
    return LatchworkError(Problem("R504", message, help=hint))
