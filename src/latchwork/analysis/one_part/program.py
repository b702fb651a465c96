"""A part's behaviour as operations on single bits, to be worked for many cases (lanes) at once.

A *slot* is one bit: of a pin, of a state, or of an expression's node. The value of a slot is a whole number with one
bit a lane. Every node of every expression has slots of its own, wires too, so that each may be stuck in some lanes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import IntEnum

from latchwork.logic import Expression, Operation
from latchwork.parts import Behaviour, Part

Slot = int
Slots = tuple[Slot, ...]


class Step(IntEnum):
    """``READ`` has the number of the read in place of its sources."""

    COPY = 0
    NOT = 1
    AND = 2
    OR = 3
    XOR = 4
    MUX = 5
    READ = 6


Operations = list[tuple[Step, Slot, Slot, Slot, Slot]]


@dataclass(frozen=True)
class Read:
    """A memory read: where its address stands and where its word goes."""

    memory: str
    address: Slots
    word: Slots


def roots(behaviour: Behaviour) -> Iterator[Expression]:
    """Every expression that stands in a behaviour, those of timers left out."""
    for drive in behaviour.drives:
        yield from (drive.value, *([] if drive.enable is None else [drive.enable]))
    for register in behaviour.registers:
        for update in register.updates:
            yield from (update.clock, update.data)
    for latch in behaviour.latches:
        yield from (latch.enable, latch.data)
    for levels in (*(each.levels for each in behaviour.registers), *(each.levels for each in behaviour.latches)):
        yield from (part for level in levels for part in (level.active, level.value))
    for memory in behaviour.memories:
        for write in memory.writes:
            yield from (write.strobe, write.address, write.data)


def nodes(expressions: Iterable[Expression]) -> list[Expression]:
    """Every node once, arguments before what is made of them."""
    found: dict[Expression, None] = {}
    waiting = [(each, False) for each in reversed(list(expressions))]
    while waiting:
        node, ready = waiting.pop()
        if ready:
            found[node] = None
        elif node not in found:
            waiting.append((node, True))
            waiting += [(argument, False) for argument in reversed(node.args)]
    return list(found)


def pins_read(part: Part, expressions: Iterable[Expression]) -> set[int]:
    """The pins on which expressions depend directly."""
    names = {str(node.data) for node in nodes(expressions) if node.operation is Operation.VARIABLE}
    return {pin for name in names for pin in part.ports.get(name, ())}


class Program:
    """``slots`` gives the slots of every node; pins have the slots of their index, states follow.

    ``state_slots``: the slots of each register, latch and timer; a timer's stay as they are.
    """

    def __init__(self, part: Part) -> None:
        self.part = part
        self.count = len(part.pins)
        self.zero, self.one = self._new(2)
        behaviour = part.behaviour
        widths = {each.name: each.width for each in behaviour.registers}
        widths |= {each.name: each.width for each in behaviour.latches} | {each.name: 1 for each in behaviour.timers}
        self.state_slots = {name: self._new(width) for name, width in widths.items()}
        self.operations: Operations = []
        self.reads: list[Read] = []
        self.slots: dict[Expression, Slots] = {}
        self._builders: dict[Operation, Callable[[Expression, list[Slots]], None]] = {
            Operation.ADD: self._add,
            Operation.MUX: self._mux,
            Operation.EQUAL: self._equal,
            Operation.LESS: self._less,
            Operation.CASE: self._case,
            Operation.READ: self._read,
        }
        for node in nodes(roots(behaviour)):
            self._translate(node)

    def _new(self, width: int) -> Slots:
        self.count += width
        return tuple(range(self.count - width, self.count))

    def _emit(self, step: Step, a: Slot, b: Slot = 0, c: Slot = 0, into: Slot | None = None) -> Slot:
        slot = self._new(1)[0] if into is None else into
        self.operations.append((step, slot, a, b, c))
        return slot

    def _translate(self, node: Expression) -> None:
        arguments = [self.slots[argument] for argument in node.args]
        if node.operation is Operation.VARIABLE:
            name = str(node.data)
            self.slots[node] = self.state_slots.get(name) or self.part.ports[name]
        elif node.operation is Operation.CONSTANT:
            self.slots[node] = tuple(self.one if int(node.data) >> bit & 1 else self.zero for bit in range(node.width))  # type: ignore[arg-type]
        else:
            self.slots[node] = self._new(node.width)
            self._builders.get(node.operation, self._bit_by_bit)(node, arguments)

    def _bit_by_bit(self, node: Expression, arguments: list[Slots]) -> None:
        for bit, into in enumerate(self.slots[node]):
            match node.operation:
                case Operation.NOT:
                    self._emit(Step.NOT, arguments[0][bit], into=into)
                case Operation.AND:
                    self._chain(Step.AND, [each[bit] for each in arguments], into)
                case Operation.OR:
                    self._chain(Step.OR, [each[bit] for each in arguments], into)
                case Operation.XOR:
                    self._chain(Step.XOR, [each[bit] for each in arguments], into)
                case Operation.CONCAT:
                    self._emit(Step.COPY, [slot for each in arguments for slot in each][bit], into=into)
                case Operation.SLICE:
                    self._emit(Step.COPY, arguments[0][bit + int(node.data)], into=into)  # type: ignore[arg-type]
                case _:
                    self._emit(Step.COPY, arguments[0][0], into=into)

    def _chain(self, step: Step, sources: list[Slot], into: Slot | None = None) -> Slot:
        """All sources through one kind of gate."""
        if len(sources) == 1:
            return self._emit(Step.COPY, sources[0], into=into)
        result = sources[0]
        for place, source in enumerate(sources[1:], 2):
            result = self._emit(step, result, source, into=into if place == len(sources) else None)
        return result

    def _mux(self, node: Expression, arguments: list[Slots]) -> None:
        select, yes, no = arguments
        for bit, into in enumerate(self.slots[node]):
            self._emit(Step.MUX, select[0], yes[bit], no[bit], into)

    def _add(self, node: Expression, arguments: list[Slots]) -> None:
        total = arguments[0]
        for place, addend in enumerate(arguments[1:], 2):
            total = self._sum(total, addend, self.slots[node] if place == len(arguments) else self._new(node.width))

    def _sum(self, a: Slots, b: Slots, into: Slots) -> Slots:
        carry = self.zero
        for x, y, slot in zip(a, b, into, strict=True):
            half = self._emit(Step.XOR, x, y)
            self._emit(Step.XOR, half, carry, into=slot)
            carry = self._emit(Step.MUX, half, carry, x)
        return into

    def _equal(self, node: Expression, arguments: list[Slots]) -> None:
        unlike = [self._emit(Step.XOR, x, y) for x, y in zip(*arguments, strict=True)]
        self._emit(Step.NOT, self._chain(Step.OR, unlike), into=self.slots[node][0])

    def _less(self, node: Expression, arguments: list[Slots]) -> None:
        borrow = self.zero
        for x, y in zip(*arguments, strict=True):
            borrow = self._emit(Step.MUX, self._emit(Step.XOR, x, y), y, borrow)
        self._emit(Step.COPY, borrow, into=self.slots[node][0])

    def _case(self, node: Expression, arguments: list[Slots]) -> None:
        assert isinstance(node.data, tuple)
        select, *values, result = arguments
        inverse = [self._emit(Step.NOT, bit) for bit in select]
        for key, value in zip(node.data, values, strict=True):
            literals = [select[bit] if key >> bit & 1 else inverse[bit] for bit in range(len(select))]
            hit = self._chain(Step.AND, literals)
            result = tuple(self._emit(Step.MUX, hit, yes, no) for yes, no in zip(value, result, strict=True))
        for slot, into in zip(result, self.slots[node], strict=True):
            self._emit(Step.COPY, slot, into=into)

    def _read(self, node: Expression, arguments: list[Slots]) -> None:
        self.reads.append(Read(str(node.data), arguments[0], self.slots[node]))
        self.operations.append((Step.READ, self.slots[node][0], len(self.reads) - 1, 0, 0))
