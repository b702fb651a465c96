"""A part on the bench in many lanes at once; rounds as docs/semantics.md has them.

Each lane is a bench of its own: with other levels at the pins, another power-up state, or a fault. ``stuck`` says for
a slot in which lanes it is stuck low and high. What a tester does not drive and the part does not either, floats: it
reads as ``floating`` says. Where a tester drives a pin that a faulty part drives too, the tester wins.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from latchwork.analysis.one_part.program import Operations, Program, Slot, Slots, Step, pins_read
from latchwork.parts import Direction, Level, Memory, OutputKind, Update

ROUNDS = 40
Stuck = Mapping[Slot, tuple[int, int]]  # slot -> lanes stuck low, lanes stuck high
Words = dict[int, list[int]]  # address -> a number a bit of the word, with one bit a lane


class LanesBench:
    """``full`` has a 1 for every lane. ``states`` hold at power-up whatever the pins float at; nothing acts before the
    first ``put``. ``unwritten(memory, address, bit)``: lanes in which that cell is 1 at first."""

    def __init__(
        self,
        program: Program,
        full: int,
        stuck: Stuck | None = None,
        *,
        states: Mapping[str, list[int]] | None = None,
        floating: Callable[[int], int] = lambda pin: 0,
        unwritten: Callable[[str, int, int], int] = lambda memory, address, bit: 0,
    ) -> None:
        self.program = program
        self.full = full
        self._stuck = dict(stuck or {})
        self._unwritten = unwritten
        self._floating = [floating(pin) for pin in range(len(program.part.pins))]
        self._behaviour = program.part.behaviour
        self._levels = list(self._floating)
        self._driven = [0] * len(self._levels)
        self._own_pins = self._pins_fed_back()
        self._values = [0] * program.count
        self._values[program.one] = full
        self.memories: dict[str, Words] = {memory.name: {} for memory in self._behaviour.memories}
        self.states = {
            name: list((states or {}).get(name, [0] * len(slots))) for name, slots in program.state_slots.items()
        }
        self._operations = self._with_stuck(program.operations)
        self._settle_nets()
        self._before = list(self._values)

    def _pins_fed_back(self) -> list[int]:
        """Pins that the part drives and reads."""
        part = self.program.part
        read = pins_read(part, self.program.slots)
        return sorted({pin for drive in self._behaviour.drives for pin in part.ports[drive.port]} & read)

    def _with_stuck(self, operations: Operations) -> list[tuple[int, ...]]:
        """The operations with one behind each that may be stuck; -1 marks it."""
        found: list[tuple[int, ...]] = []
        for operation in operations:
            found.append(operation)
            made = self.program.reads[operation[2]].word if operation[0] is Step.READ else (operation[1],)
            found += [(-1, slot, *self._masks(slot)) for slot in made if slot in self._stuck]
        return found

    def _masks(self, slot: Slot) -> tuple[int, int]:
        low, high = self._stuck[slot]
        return self.full & ~low, high

    # What a tester does

    def put(self, levels: Mapping[int, int], driven: Mapping[int, int] | None = None) -> None:
        """Drive pins at levels (lanes in which each is high) and let all others go; settles. ``driven``: lanes in
        which a pin is driven, where it is not in all."""
        for pin in range(len(self._levels)):
            self._driven[pin] = (driven or {}).get(pin, self.full) if pin in levels else 0
            self._levels[pin] = levels.get(pin, 0)
        self._settle_nets()
        self._rounds()

    def pin(self, pin: int) -> tuple[int, int]:
        """(lanes in which the part drives the pin, those of them in which it drives it high)."""
        enabled, value = self._own(pin)
        if pin in self._stuck and self.program.part.pins[pin].direction is not Direction.INPUT:
            low, high = self._stuck[pin]
            enabled, value = enabled | low | high, (value & ~low) | high
        return enabled, value & enabled

    def value(self, slot: Slot) -> int:
        """Lanes in which a slot is high, settled."""
        return self._values[slot]

    def save(self) -> tuple[object, ...]:
        """All that changes, for ``restore``."""
        memories = {name: {at: list(word) for at, word in words.items()} for name, words in self.memories.items()}
        states = {name: list(bits) for name, bits in self.states.items()}
        return list(self._values), list(self._before), list(self._levels), list(self._driven), states, memories

    def restore(self, saved: tuple[object, ...]) -> None:
        values, before, levels, driven, states, memories = saved
        self._values, self._before = list(values), list(before)  # type: ignore[call-overload]
        self._levels, self._driven = list(levels), list(driven)  # type: ignore[call-overload]
        self.states = {name: list(bits) for name, bits in states.items()}  # type: ignore[attr-defined]
        self.memories = {
            name: {at: list(word) for at, word in words.items()}
            for name, words in memories.items()  # type: ignore[attr-defined]
        }

    def changed(self, lanes: int) -> int:
        """Lanes whose states differ from those of the lane repeated in ``lanes``-wide groups: the first group's."""
        first, differing = (1 << lanes) - 1, 0
        ones = self.full // first
        for bits in self.states.values():
            for bit in bits:
                differing |= bit ^ (bit & first) * ones
        return differing

    # Nets

    def _own(self, pin: int) -> tuple[int, int]:
        """Where the part itself drives a pin, and high."""
        enabled = value = 0
        for drive in self._behaviour.drives:
            pins = self.program.part.ports[drive.port]
            if pin in pins:
                bit = self._values[self.program.slots[drive.value][pins.index(pin)]]
                on = self.full if drive.enable is None else self._values[self.program.slots[drive.enable][0]]
                if drive.kind is OutputKind.OPEN_COLLECTOR:
                    on = self.full & ~bit
                value |= on & bit
                enabled |= on
        return enabled, value

    def _settle_nets(self) -> None:
        for slot_name, bits in self.states.items():
            for slot, bit in zip(self.program.state_slots[slot_name], bits, strict=True):
                self._load(slot, bit)
        for pin, level in enumerate(self._levels):
            self._load(pin, level & self._driven[pin] | self._floating[pin] & ~self._driven[pin])
        for _ in range(ROUNDS):
            self._evaluate()
            if not self._feed_back():
                return

    def _feed_back(self) -> bool:
        """Pins that nobody outside drives read what the part drives; whether one of them changed."""
        changed = False
        for pin in self._own_pins:
            enabled, value = self._own(pin)
            seen = enabled & value | ~enabled & self._floating[pin]
            before = self._values[pin]
            self._load(pin, self._levels[pin] & self._driven[pin] | seen & ~self._driven[pin])
            changed |= self._values[pin] != before
        return changed

    def _load(self, slot: Slot, value: int) -> None:
        if slot in self._stuck:
            keep, high = self._masks(slot)
            value = value & keep | high
        self._values[slot] = value & self.full

    def _evaluate(self) -> None:
        values, full = self._values, self.full
        for step, into, a, b, *c in self._operations:
            match step:
                case Step.AND:
                    values[into] = values[a] & values[b]
                case Step.OR:
                    values[into] = values[a] | values[b]
                case Step.XOR:
                    values[into] = values[a] ^ values[b]
                case Step.MUX:
                    select = values[a]
                    values[into] = select & values[b] | (full ^ select) & values[c[0]]
                case Step.NOT:
                    values[into] = full ^ values[a]
                case Step.COPY:
                    values[into] = values[a]
                case Step.READ:
                    self._read(a)
                case _:
                    values[into] = values[into] & a | b

    # Memories

    def _read(self, number: int) -> None:
        read = self.program.reads[number]
        words = self.memories[read.memory]
        total = [0] * len(read.word)
        for address, lanes in self._addresses(read.address, self.full):
            word = words.get(address) or self._unwritten_word(read.memory, address, len(total))
            total = [bit | cell & lanes for bit, cell in zip(total, word, strict=True)]
        for slot, bit in zip(read.word, total, strict=True):
            self._values[slot] = bit

    def _addresses(self, slots: Slots, lanes: int, values: list[int] | None = None) -> Iterable[tuple[int, int]]:
        """Each address that stands in some of the lanes, with those lanes."""
        values = self._values if values is None else values
        while lanes:
            lowest = lanes & -lanes
            address, same = 0, lanes
            for place, slot in enumerate(slots):
                high = bool(values[slot] & lowest)
                address |= high << place
                same &= values[slot] if high else ~values[slot]
            yield address, same
            lanes &= ~same

    def _unwritten_word(self, memory: str, address: int, width: int) -> list[int]:
        return [self._unwritten(memory, address, bit) & self.full for bit in range(width)]

    # Rounds

    def _rounds(self) -> None:
        for _ in range(ROUNDS):
            proposed, writes = self._proposals()
            now = list(self._values)
            written = [self._write(*write) for write in writes]
            if proposed == self.states and not any(written):
                break
            self.states = proposed
            self._before = now
            self._settle_nets()
        self._before = list(self._values)

    def _proposals(self) -> tuple[dict[str, list[int]], list[tuple[Memory, Slots, Slots, int, list[int]]]]:
        proposed = dict(self.states)
        for register in self._behaviour.registers:
            proposed[register.name] = self._register(register.name, register.updates, register.levels)
        for latch in self._behaviour.latches:
            slots = self.program.slots
            open_ = self._values[slots[latch.enable][0]]
            taken = self._chosen(open_, slots[latch.data], self._values, self.states[latch.name])
            proposed[latch.name] = self._overwritten(latch.levels, taken)
        return proposed, self._writes()

    def _register(self, name: str, updates: tuple[Update, ...], levels: tuple[Level, ...]) -> list[int]:
        result = self.states[name]
        for update in reversed(updates):
            clock = self.program.slots[update.clock][0]
            rose = self._values[clock] & ~self._before[clock]
            result = self._chosen(rose, self.program.slots[update.data], self._before, result)
        return self._overwritten(levels, result)

    def _overwritten(self, levels: tuple[Level, ...], result: list[int]) -> list[int]:
        for level in reversed(levels):
            active = self._values[self.program.slots[level.active][0]]
            result = self._chosen(active, self.program.slots[level.value], self._values, result)
        return result

    def _chosen(self, lanes: int, slots: Slots, values: list[int], otherwise: list[int]) -> list[int]:
        if not lanes:
            return otherwise
        return [values[slot] & lanes | bit & ~lanes for slot, bit in zip(slots, otherwise, strict=True)]

    def _writes(self) -> list[tuple[Memory, Slots, Slots, int, list[int]]]:
        found = []
        for memory in self._behaviour.memories:
            for write in memory.writes:
                slots = self.program.slots
                strobe = slots[write.strobe][0]
                lanes = self._values[strobe] & ~(self._before[strobe] if write.clocked else 0)
                values = self._before if write.clocked else self._values
                found.append((memory, slots[write.address], slots[write.data], lanes, values))
        return found

    def _write(self, memory: Memory, at: Slots, data: Slots, lanes: int, values: list[int]) -> bool:
        changed, words = False, self.memories[memory.name]
        for address, same in self._addresses(at, lanes, values):
            old = words.get(address) or self._unwritten_word(memory.name, address, memory.width)
            new = [values[slot] & same | bit & ~same for slot, bit in zip(data, old, strict=True)]
            changed |= new != old
            words[address] = new
        return changed
