"""The oracle: a netlist under power, evaluated plainly. docs/semantics.md says in words what it does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from latchwork.devices import Device
from latchwork.engines.devices import Host
from latchwork.engines.oracle.elements import PulseElement, elements_of
from latchwork.engines.oracle.events import Event
from latchwork.engines.oracle.grouping import Grouping, grouped
from latchwork.engines.oracle.incidents import IncidentLog
from latchwork.engines.oracle.known import ONE, ZERO, Pair
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.masks import HIGH, LOW, OFF, VALUES, level_mask
from latchwork.engines.oracle.outside import Outside
from latchwork.engines.oracle.rounds import Rounds
from latchwork.engines.oracle.saving import Saved, restored, saved
from latchwork.engines.oracle.timers import Oscillators, hand_at_clock, hand_slots, times_of
from latchwork.engines.oracle.trouble import Trouble
from latchwork.engines.oracle.wiring import BoundTie, is_switch, rail_end, shorts_rails, wire
from latchwork.engines.protocol import Incident, Value
from latchwork.logic.evaluate import mask
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.problems import Label, LatchworkError, Problem

HAND_HALF = 500_000_000  # picoseconds between a press and a release, when ``run`` works a hand clock
PATIENCE = 1_000_000  # ticks without an edge of the main clock, after which ``run`` gives up


class Oracle:
    """A machine under power; fulfils ``engines.protocol.Simulation``.

    ``contents``: bytes of memories by chip, for the chip's first memory that keeps, or its first; a word wider than
    eight bits takes several bytes, the lowest first; bytes that are missing from one that keeps are 0xFF (erased).
    ``seed`` chooses power-up values and all else that a bench leaves to chance. With ``unknown`` nothing is chosen:
    what is not known for every choice is unknown. ``host``: who stands for it towards devices,
    itself if left out. Raises LatchworkError (R201, R202).
    """

    def __init__(
        self,
        netlist: Netlist,
        contents: Mapping[ChipId, bytes] | None = None,
        seed: int = 0,
        unknown: bool = False,
        patience: int = PATIENCE,
        *,
        host: Host | None = None,
    ) -> None:
        self.netlist = netlist
        self.ticks = self.clocks = 0
        self.patience = patience
        times = times_of(netlist)
        self._wiring = wire(netlist, unknown)
        _check_contents(netlist, contents or {})
        self._machine = Machine(self._wiring, dict(contents or {}), seed)
        self._log = IncidentLog()
        self._trouble = Trouble(self._machine, self._log)
        elements = elements_of(self._wiring, times)
        self._rounds = Rounds(self._machine, elements, self._trouble)
        self._pulses = {each.slot: each for each in elements if isinstance(each, PulseElement)}
        self._oscillators = Oscillators(self._wiring, times)
        self._hands = hand_slots(self._wiring)
        self._closed: frozenset[int] = frozenset()  # switches between two nets
        self._groupings: dict[frozenset[int], Grouping] = {}
        self._clock_was = OFF
        self._outside = Outside(host or self, self._machine, self._trouble)
        self._power_up()

    # Time

    @property
    def time_ps(self) -> int:
        return self._machine.time

    @property
    def next_time(self) -> int | None:
        """When the next event comes, in picoseconds; None where nothing will ever happen again."""
        heap = self._machine.queue.heap
        return heap[0][0] if heap else None

    @property
    def incidents(self) -> Sequence[Incident]:
        """What was reported so far, each place once, with its count."""
        return self._log.entries

    def tick(self) -> bool:
        """Go to the next event and settle. False where nothing will ever happen again."""
        if not self._machine.queue.heap:
            return False
        self._machine.time, events = self._machine.queue.pop()
        for serial, event in events:
            if not self._outside.apply(event):
                self._apply(serial, event)
        self._settle()
        self._outside.after_tick()
        return True

    def run(self, clocks: int) -> int:
        """Run until so many rising edges of the main clock have passed; returns how many did.

        A hand clock at the main clock is worked with half a millisecond between press and release. Gives up, with
        fewer, when nothing will happen any more or the clock stood still for ``patience`` ticks.
        """
        start, still, last = self.clocks, 0, self.clocks
        hand = hand_at_clock(self._wiring)
        while self.clocks - start < clocks and still < self.patience:
            if hand is not None and not self._hand_is_coming(hand):
                self._work_hand(hand)
            if not self.tick():
                break
            still = 0 if self.clocks != last else still + 1
            last = self.clocks
        return self.clocks - start

    def _hand_is_coming(self, hand: ChipId) -> bool:
        return any(
            event.slot == self._hands[hand] and event.purpose == "set" for _, _, event in self._machine.queue.heap
        )

    def _work_hand(self, hand: ChipId) -> None:
        slot = self._hands[hand]
        value = ZERO if self._machine.held(slot) == ONE else ONE
        self._machine.queue.add(self._machine.time + HAND_HALF, Event(slot, "set", value))

    def _apply(self, serial: int, event: Event) -> None:
        value = event.value
        if event.purpose == "turn":
            self._oscillators.turn(self._machine.queue, self._machine.time, event)
        elif event.purpose == "end":
            value = self._pulses[event.slot].end(serial, self._machine.held(event.slot))
        self._change(event.slot, value)

    def _change(self, slot: int, value: Pair) -> None:
        if self._machine.store_slot(slot, value):
            self._rounds.look_at(slot)

    def _settle(self) -> None:
        """One tick: rounds until nothing is triggered."""
        self.ticks += 1
        self._trouble.tick = self.ticks
        self._rounds.settle()
        self._trouble.tick_over()
        if self.netlist.clock != NO_NET:
            clock = self._machine.nets.final[self.netlist.clock]
            self.clocks += self._clock_was == LOW and clock == HIGH
            self._clock_was = clock

    def _settle_by_hand(self) -> None:
        self._settle()
        self._outside.after_tick()

    # Devices

    def attach(self, device: Device) -> None:
        """Join a device to the machine, settle, and switch it on. ValueError where its name is taken; DeviceError."""
        self._outside.add_drivers(device)
        self._groupings.clear()
        self._regroup()
        self._settle_by_hand()
        self._outside.attached.attach(device)

    @property
    def devices(self) -> Sequence[str]:
        """Names of the attached devices."""
        return tuple(bench.device.name for bench in self._outside.attached.benches)

    def send(self, device: str, data: bytes) -> None:
        """Something from outside for a device. KeyError where there is none of the name; DeviceError."""
        self._outside.attached.send(device, data)

    def hear(self, ear: Callable[[str, bytes], object] | None) -> None:
        """Who is told what devices emit: name of the device, data."""
        self._outside.attached.ear = ear

    def plan_drive(self, time: int, driver: int, level: int | None) -> None:
        """For devices: one of their drivers takes a level at a time, None lets go."""
        self._outside.plan_drive(time, driver, level)

    def plan_wake(self, time: int, device: int) -> None:
        """For devices: a call at a time."""
        self._outside.plan_wake(time, device)

    def _power_up(self) -> None:
        machine = self._machine
        timers = {slot for chip in range(len(self.netlist.chips)) for slot in self._timer_slots(chip)}
        for number, slot in enumerate(self._wiring.slots):
            value = ZERO if number in timers else machine.power_up_value(slot)
            machine.bits[number], machine.certain[number] = value
        initially = [number for number, tie in enumerate(self._wiring.ties) if self._starts_closed(tie)]
        self._closed = frozenset(n for n in initially if self._joins(self._wiring.ties[n]))
        machine.nets.closed = set(initially) - self._closed
        self._regroup()
        self._oscillators.start(machine.queue)
        self._rounds.power_up()
        self.ticks = -1
        self._settle()
        self.clocks = 0

    def _timer_slots(self, chip: ChipId) -> list[int]:
        return [self._wiring.slot_named[chip, timer.name] for timer in self.netlist.part_of(chip).behaviour.timers]

    def _starts_closed(self, tie: BoundTie) -> bool:
        return is_switch(tie) and bool(dict(self.netlist.chips[tie.chip].parameters).get("closed", 0))

    def _joins(self, tie: BoundTie) -> bool:
        return rail_end(self._wiring, tie) is None and not shorts_rails(self._wiring, tie)

    def _regroup(self) -> None:
        if self._closed not in self._groupings:
            self._groupings[self._closed] = grouped(self._wiring, self._closed)
        grouping = self._groupings[self._closed]
        self._machine.nets.regroup(grouping)
        self._rounds.regroup(grouping)

    # Looking

    def value(self, net: NetId) -> Value:
        """What the net carries now, settled."""
        return VALUES[self._machine.nets.final[net]]

    def values(self, nets: Sequence[NetId]) -> list[Value]:
        """What several nets carry."""
        final = self._machine.nets.final
        return [VALUES[final[net]] for net in nets]

    def read(self, nets: Iterable[NetId]) -> int | None:
        """The nets as a number, lowest bit first; None where one is unknown or carries nothing."""
        final, number = self._machine.nets.final, 0
        for index, net in enumerate(nets):
            mask_ = final[net]
            if mask_ not in (LOW, HIGH):
                return None
            number |= (mask_ >> 1) << index
        return number

    def state(self, chip: ChipId, name: str) -> int | None:
        """A register, latch or timer of a chip; None where a bit is unknown."""
        bits, known = self.state_bits(chip, name)
        return bits if known == mask(self._wiring.slots[self._slot(chip, name)].width) else None

    def state_bits(self, chip: ChipId, name: str) -> Pair:
        """A register, latch or timer as (bits, mask of the known ones)."""
        return self._machine.held(self._slot(chip, name))

    def memory(self, chip: ChipId, name: str = "") -> Sequence[int]:
        """A copy of a memory of the chip (the first where no name is given); unknown cells are -1."""
        store = self._store(chip, name)
        memory = self._wiring.stores[store].memory
        full, cells = mask(memory.width), self._machine.cells[store]
        pairs = (cells.pair(address) for address in range(1 << memory.address_width))
        return [bits if known == full else -1 for bits, known in pairs]

    def cell(self, chip: ChipId, address: int, name: str = "") -> int:
        """One cell of a memory of the chip; -1 where it is unknown."""
        store = self._store(chip, name)
        bits, known = self._machine.cells[store].pair(address)
        return bits if known == mask(self._wiring.stores[store].memory.width) else -1

    def power_up_reads(self) -> dict[tuple[ChipId, str], tuple[int, ...]]:
        """Addresses of memory cells that were shown although nothing was written to them since power-up."""
        found = zip(self._wiring.stores, self._machine.cells, strict=True)
        return {(store.chip, store.memory.name): tuple(sorted(cells.early)) for store, cells in found if cells.early}

    def unknown_states(self) -> list[tuple[ChipId, str]]:
        """Registers and latches of which a bit is unknown."""
        found = enumerate(self._wiring.slots)
        return [(slot.chip, slot.name) for n, slot in found if self._machine.certain[n] != self._machine.full[n]]

    def forget_incidents(self) -> None:
        """Start the log anew: what happened before a reset is of no interest. Count and power-up reads as well."""
        self._log.restore(())
        for cells in self._machine.cells:
            cells.forget_early()

    # Hands and probes

    def set_switch(self, chip: ChipId, closed: bool, tie: str = "") -> None:
        """Close or open a switch (of a part with several: by the tie's name); settles."""
        number = self._tie(chip, tie)
        row = self._wiring.ties[number]
        rail = rail_end(self._wiring, row)
        if rail is not None:
            self._machine.nets.switch(number, closed, rail[0])
        elif shorts_rails(self._wiring, row):
            self._trouble.rails_shorted(chip) if closed else None
        else:
            self._closed = self._closed | {number} if closed else self._closed - {number}
            self._regroup()
        self._settle_by_hand()

    def set_hand(self, chip: ChipId, level: int) -> None:
        """Set the output of a hand-operated source; settles. KeyError where the chip is none."""
        if chip not in self._hands:
            raise KeyError(f"{self._name(chip)} is not operated by hand")
        self._change(self._hands[chip], ONE if level else ZERO)
        self._settle_by_hand()

    def force(self, net: NetId, level: int | None) -> None:
        """Hold a net (and those joined with it) at a level whatever drives it, None lets it go; settles."""
        self.force_all({net: level})

    def force_all(self, levels: Mapping[NetId, int | None]) -> None:
        """Force several nets, or let them go, all in one tick."""
        for net, level in levels.items():
            self._machine.nets.force(net, None if level is None else level_mask(level))
        self._settle_by_hand()

    def set_state(self, chip: ChipId, name: str, value: int) -> None:
        """Overwrite a register or latch; settles. ValueError where the value does not fit."""
        slot = self._slot(chip, name)
        full = self._machine.full[slot]
        if not 0 <= value <= full:
            raise ValueError(f"{value} does not fit the {self._wiring.slots[slot].width} bits of {name}")
        self._change(slot, (value, full))
        self._settle_by_hand()

    def write_memory(self, chip: ChipId, contents: bytes, start: int = 0, name: str = "") -> None:
        """Put bytes into a memory; settles. ValueError where they reach beyond its end."""
        store = self._store(chip, name)
        memory, cells = self._wiring.stores[store].memory, self._machine.cells[store]
        step, full = (memory.width + 7) // 8, mask(memory.width)
        words = [contents[at : at + step] for at in range(0, len(contents), step)]
        if start < 0 or start + len(words) > 1 << memory.address_width:
            raise ValueError(f"{len(words)} words from {start:#x} on reach beyond the end of {self._name(chip)}")
        for address, word in enumerate(words, start):
            cells.store(address, (int.from_bytes(word, "little") & full, full))
        cells.begin_round()
        self._machine.touch_store(store)
        self._rounds.look_at_store(store)
        self._settle_by_hand()

    def save(self) -> Saved:
        """All state, to be handed to ``restore`` of the same oracle."""
        state = saved(self._machine, self._rounds, self._trouble, self._closed, self._moment())
        return replace(state, devices=self._outside.attached.saved())

    def _moment(self) -> tuple[int, ...]:
        return self.ticks, self.clocks, self._clock_was

    def restore(self, saved: object) -> None:
        """Back to a saved moment. TypeError where it is none."""
        if not isinstance(saved, Saved):
            raise TypeError("only what save() gave can be restored")
        if saved.closed != self._closed:
            self._closed = saved.closed
            self._regroup()
        restored(saved, self._machine, self._rounds, self._trouble)
        self.ticks, self.clocks, self._clock_was = saved.moment
        self._outside.attached.restore(saved.devices)

    # Names

    def _slot(self, chip: ChipId, name: str) -> int:
        slot = self._wiring.slot_named.get((chip, name))
        if slot is None:
            names = ", ".join(each for of, each in self._wiring.slot_named if of == chip) or "none"
            raise KeyError(f'{self._name(chip)} has no state "{name}"; it has {names}')
        return slot

    def _store(self, chip: ChipId, name: str) -> int:
        for number, store in enumerate(self._wiring.stores):
            if store.chip == chip and name in ("", store.memory.name):
                return number
        raise KeyError(f"{self._name(chip)} has no memory" + (f' "{name}"' if name else ""))

    def _tie(self, chip: ChipId, name: str) -> int:
        for number, tie in enumerate(self._wiring.ties):
            if tie.chip == chip and is_switch(tie) and name in ("", tie.tie.name):
                return number
        raise KeyError(f"{self._name(chip)} has no switch" + (f' "{name}"' if name else ""))

    def _name(self, chip: ChipId) -> str:
        return f"{self.netlist.part_of(chip).name} {self.netlist.chips[chip].reference}"


def _check_contents(netlist: Netlist, contents: Mapping[ChipId, bytes]) -> None:
    problems = []
    for chip, given in contents.items():
        memories = netlist.part_of(chip).behaviour.memories
        memory = next((each for each in memories if each.keeps), memories[0] if memories else None)
        size = (1 << memory.address_width) * ((memory.width + 7) // 8) if memory else 0
        if len(given) > size:
            row = netlist.chips[chip]
            message = f"{netlist.part_of(chip).name} {row.reference} holds {size} bytes, it was given {len(given)}"
            problems.append(Problem("R202", message, (Label(row.position),), "give it no more than it holds"))
    if problems:
        raise LatchworkError(problems)
