"""What is kept, and when it changes: registers, latches, memories and triggered timers, each looked at in a
settled round when something that it reads has changed.

``examine`` proposes; ``rounds`` applies all proposals of a round together. In the known reading a trigger is
certain, possible or excluded; what possibly changed keeps only the bits that are the same either way.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from latchwork.engines.oracle.events import Event
from latchwork.engines.oracle.known import ONE, UNKNOWN, ZERO, Pair, agreed
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.wiring import Bound, Wiring
from latchwork.logic.evaluate import mask
from latchwork.netlist import ChipId
from latchwork.parts import Latch, Memory, Register, Timer, TimerKind
from latchwork.parts.behaviour import Level


class Sense:
    """An expression of one bit whose changes matter: clock, strobe, enable. ``was`` is its value in the settled
    round before, ``now`` in this one; ``turns`` counts its changes within a tick."""

    __slots__ = ("bound", "now", "turns", "was")

    def __init__(self, bound: Bound) -> None:
        self.bound = bound
        self.was: Pair = UNKNOWN
        self.now: Pair = UNKNOWN
        self.turns = 0

    def look(self, machine: Machine) -> bool:
        """Take the value of this round; whether it changed."""
        self.was, self.now = self.now, machine.evaluate(self.bound)
        if self.was == self.now:
            return False
        if self.was[1] and self.now[1]:
            self.turns += 1
        return True

    def may_rise(self) -> bool:
        return self.was != ONE and self.now != ZERO

    def rises(self) -> bool:
        return self.was == ZERO and self.now == ONE


class Observer(Protocol):
    """Who hears of what a bench would show as trouble."""

    def taken(self, chip: ChipId, bound: Bound, before: bool) -> None:
        """A value was certainly kept, as evaluated in this settled round or the one before."""

    def clocked(self, element: Element, bound: Bound, value: Pair) -> None:
        """A register was certainly clocked and took ``value``."""

    def moved(self, chip: ChipId, address: Bound) -> None:
        """An address moved during a level write."""


class Element(Protocol):
    """``senses`` are looked at first; ``reads`` is everything that makes it worth looking. ``slot``: its state,
    None for a memory."""

    chip: ChipId

    @property
    def slot(self) -> int | None: ...

    senses: tuple[Sense, ...]
    reads: tuple[Bound, ...]

    def examine(self, machine: Machine, observer: Observer) -> Proposal | None: ...

    def restless(self) -> bool:
        """Whether it may change although nothing that it reads is seen to change: an unknown clock."""

    def saved(self) -> tuple[object, ...]:
        """What it keeps besides senses and state."""

    def restore(self, saved: tuple[object, ...]) -> None: ...


class SlotProposal:
    __slots__ = ("slot", "value")

    def __init__(self, slot: int, value: Pair) -> None:
        self.slot = slot
        self.value = value

    def apply(self, machine: Machine) -> bool:
        return machine.store_slot(self.slot, self.value)


class WriteProposal:
    """``writes`` in their order; an address of None stands for a write that may have hit any cell."""

    __slots__ = ("store", "writes")

    def __init__(self, store: int, writes: list[tuple[int | None, Pair]]) -> None:
        self.store = store
        self.writes = writes

    def apply(self, machine: Machine) -> bool:
        cells, changed = machine.cells[self.store], False
        for address, value in self.writes:
            changed |= cells.lose() if address is None else cells.store(address, value)
        if changed:
            machine.touch_store(self.store)
        return changed


Proposal = SlotProposal | WriteProposal


class Levels:
    """Levels that overwrite a state: the first that is active counts."""

    def __init__(self, wiring: Wiring, chip: ChipId, levels: tuple[Level, ...]) -> None:
        self.levels = [(Sense(wiring.bind(chip, level.active)), wiring.bind(chip, level.value)) for level in levels]
        self.senses = tuple(sense for sense, _ in self.levels)
        self.reads = tuple(bound for sense, value in self.levels for bound in (sense.bound, value))

    def value(self, machine: Machine) -> tuple[Pair | None, bool]:
        """What they may make of the state (None: they leave it alone), and whether they certainly do."""
        found: Pair | None = None
        for sense, value in self.levels:
            if sense.now != ZERO:
                found = joined(found, machine.evaluate(value))
                if sense.now == ONE:
                    return found, True
        return found, False


def joined(found: Pair | None, other: Pair) -> Pair:
    return other if found is None else agreed(found, other)


class RegisterElement:
    """Takes at clock edges what stood before them, unless a level overwrites it."""

    def __init__(self, wiring: Wiring, chip: ChipId, register: Register) -> None:
        self.chip = chip
        self.name = register.name
        self.slot = wiring.slot_named[chip, register.name]
        self.updates = [
            (Sense(wiring.bind(chip, update.clock)), wiring.bind(chip, update.data)) for update in register.updates
        ]
        self.levels = Levels(wiring, chip, register.levels)
        self.clocks = tuple(sense for sense, _ in self.updates)
        self.senses = self.clocks + self.levels.senses
        self.reads = (*(sense.bound for sense in self.clocks), *self.levels.reads)

    def examine(self, machine: Machine, observer: Observer) -> Proposal | None:
        found, certain = self.levels.value(machine)
        if not certain:
            for sense, data in self.updates:
                if sense.may_rise():
                    value = machine.evaluate_before(data)
                    found = joined(found, value)
                    if sense.rises():
                        observer.taken(self.chip, data, before=True)
                        observer.clocked(self, data, value)
                        certain = True
                        break
        if found is None:
            return None
        return SlotProposal(self.slot, found if certain else agreed(found, machine.held(self.slot)))

    def restless(self) -> bool:
        return any(sense.now == UNKNOWN for sense in self.clocks)

    def saved(self) -> tuple[object, ...]:
        return ()

    def restore(self, saved: tuple[object, ...]) -> None:
        """Nothing but its senses and its state, which others keep."""


class LatchElement:
    """Follows its data while enabled, unless a level overwrites it."""

    def __init__(self, wiring: Wiring, chip: ChipId, latch: Latch) -> None:
        self.chip = chip
        self.slot = wiring.slot_named[chip, latch.name]
        self.enable, self.data = Sense(wiring.bind(chip, latch.enable)), wiring.bind(chip, latch.data)
        self.levels = Levels(wiring, chip, latch.levels)
        self.senses = (self.enable, *self.levels.senses)
        self.reads = (self.enable.bound, self.data, *self.levels.reads)

    def examine(self, machine: Machine, observer: Observer) -> Proposal | None:
        found, certain = self.levels.value(machine)
        if not certain and self.enable.now != ZERO:
            found = joined(found, machine.evaluate(self.data))
            certain = self.enable.now == ONE
        if found is None:
            return None
        return SlotProposal(self.slot, found if certain else agreed(found, machine.held(self.slot)))

    def restless(self) -> bool:
        return False

    def saved(self) -> tuple[object, ...]:
        return ()

    def restore(self, saved: tuple[object, ...]) -> None:
        """Nothing but its senses and its state, which others keep."""


class WritePort:
    """One way into a memory. ``address_was`` is its address in the settled round before, while it wrote by level."""

    def __init__(self, wiring: Wiring, chip: ChipId, memory: Memory, number: int) -> None:
        write = memory.writes[number]
        self.chip = chip
        self.clocked = write.clocked
        self.full = mask(memory.address_width)
        self.sense = Sense(wiring.bind(chip, write.strobe))
        self.address, self.data = wiring.bind(chip, write.address), wiring.bind(chip, write.data)
        self.address_was: Pair = UNKNOWN

    def write(self, machine: Machine, observer: Observer) -> tuple[int | None, Pair] | None:
        """What it writes in this round, if anything."""
        sense = self.sense
        if not (sense.may_rise() if self.clocked else sense.now != ZERO):
            return None
        if not (sense.rises() if self.clocked else sense.now == ONE):
            return None, UNKNOWN
        evaluate = machine.evaluate_before if self.clocked else machine.evaluate
        address = evaluate(self.address)
        if not self.clocked:
            self._watch(address, observer)
        for bound in (self.address, self.data):
            observer.taken(self.chip, bound, before=self.clocked)
        return (address[0], evaluate(self.data)) if address[1] == self.full else (None, UNKNOWN)

    def _watch(self, address: Pair, observer: Observer) -> None:
        known = address[1] & self.address_was[1]
        if self.sense.was == ONE and (address[0] ^ self.address_was[0]) & known:
            observer.moved(self.chip, self.address)
        self.address_was = address


class MemoryElement:
    """Writes by level in each settled round, by clock at its edges; of several ports the last counts."""

    slot = None

    def __init__(self, wiring: Wiring, chip: ChipId, memory: Memory) -> None:
        self.chip = chip
        self.store = wiring.store_named[chip, memory.name]
        self.ports = [WritePort(wiring, chip, memory, number) for number in range(len(memory.writes))]
        self.senses = tuple(port.sense for port in self.ports)
        self.reads = (
            *(port.sense.bound for port in self.ports),
            *(bound for port in self.ports if not port.clocked for bound in (port.address, port.data)),
        )

    def examine(self, machine: Machine, observer: Observer) -> Proposal | None:
        writes = [write for port in self.ports if (write := port.write(machine, observer)) is not None]
        return WriteProposal(self.store, writes) if writes else None

    def restless(self) -> bool:
        return any(port.clocked and port.sense.now == UNKNOWN for port in self.ports)

    def saved(self) -> tuple[object, ...]:
        return tuple(port.address_was for port in self.ports)

    def restore(self, saved: tuple[object, ...]) -> None:
        for port, address in zip(self.ports, saved, strict=True):
            port.address_was = address  # type: ignore[assignment]


class PulseElement:
    """1 for its time from each rising edge of its trigger.

    ``latest`` is the serial of the end that counts, ``latest_certain`` that of the last edge that was no mere
    possibility. While the trigger is unknown an edge may come at any time, so that no end is the last.
    """

    def __init__(self, wiring: Wiring, chip: ChipId, timer: Timer, time: int) -> None:
        assert timer.trigger is not None
        self.chip = chip
        self.slot = wiring.slot_named[chip, timer.name]
        self.trigger = Sense(wiring.bind(chip, timer.trigger))
        self.time = time
        self.senses: tuple[Sense, ...] = (self.trigger,)
        self.reads: tuple[Bound, ...] = (self.trigger.bound,)
        self.latest = self.latest_certain = 0

    def examine(self, machine: Machine, observer: Observer) -> Proposal | None:
        trigger = self.trigger
        if trigger.now == UNKNOWN:
            self.latest = 0
            return SlotProposal(self.slot, agreed(ONE, machine.held(self.slot)))
        if not trigger.rises() and trigger.was != UNKNOWN:
            return None
        self.latest = machine.queue.add(machine.time + self.time, Event(self.slot, "end", ZERO))
        if trigger.was == UNKNOWN:
            return SlotProposal(self.slot, agreed(ONE, machine.held(self.slot)))
        self.latest_certain = self.latest
        return SlotProposal(self.slot, ONE)

    def end(self, serial: int, held: Pair) -> Pair:
        """What the state becomes when the time of one of its edges is over."""
        if serial == self.latest:
            return ZERO
        return agreed(ZERO, held) if serial == self.latest_certain else held

    def restless(self) -> bool:
        return False

    def saved(self) -> tuple[object, ...]:
        return self.latest, self.latest_certain

    def restore(self, saved: tuple[object, ...]) -> None:
        self.latest, self.latest_certain = saved  # type: ignore[assignment]


class DelayElement:
    """Each settled change of its trigger arrives its time later; at power-up it has been 0 for long."""

    def __init__(self, wiring: Wiring, chip: ChipId, timer: Timer, time: int) -> None:
        assert timer.trigger is not None
        self.chip = chip
        self.slot = wiring.slot_named[chip, timer.name]
        self.trigger = Sense(wiring.bind(chip, timer.trigger))
        self.time = time
        self.senses: tuple[Sense, ...] = (self.trigger,)
        self.reads: tuple[Bound, ...] = (self.trigger.bound,)
        self.sent: Pair = ZERO

    def examine(self, machine: Machine, observer: Observer) -> Proposal | None:
        if self.trigger.now != self.sent:
            self.sent = self.trigger.now
            machine.queue.add(machine.time + self.time, Event(self.slot, "set", self.sent))
        return None

    def restless(self) -> bool:
        return False

    def saved(self) -> tuple[object, ...]:
        return (self.sent,)

    def restore(self, saved: tuple[object, ...]) -> None:
        (self.sent,) = saved  # type: ignore[assignment]


def elements_of(wiring: Wiring, times: dict[tuple[ChipId, str], int]) -> list[Element]:
    """All of a machine's, in the order of its chips. ``times``: of timers, by chip and name."""
    return [element for chip in range(len(wiring.netlist.chips)) for element in _of_chip(wiring, chip, times)]


def _of_chip(wiring: Wiring, chip: ChipId, times: dict[tuple[ChipId, str], int]) -> Iterable[Element]:
    behaviour = wiring.netlist.part_of(chip).behaviour
    for register in behaviour.registers:
        yield RegisterElement(wiring, chip, register)
    for latch in behaviour.latches:
        yield LatchElement(wiring, chip, latch)
    for memory in behaviour.memories:
        if memory.writes:
            yield MemoryElement(wiring, chip, memory)
    for timer in behaviour.timers:
        if timer.kind is TimerKind.PULSE:
            yield PulseElement(wiring, chip, timer, times[chip, timer.name])
        elif timer.kind is TimerKind.DELAY:
            yield DelayElement(wiring, chip, timer, times[chip, timer.name])
