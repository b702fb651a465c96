"""Which pin of a part moves which other pin, and which way: read from its behaviour.

A *sense* says with which edge of the start comes which edge of the end. An input that is inverted on its way has the
senses rise to fall and fall to rise; an input of an exclusive or has all four. A figure is looked up for each later.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cache
from typing import NamedTuple

from latchwork.logic import Expression, Operation
from latchwork.parts import Drive, Latch, Level, Memory, OutputKind, Part, Register

RISE, FALL = 1, 0
Sense = tuple[int, int]  # edge of the start, edge of the end
EVERY: frozenset[Sense] = frozenset((a, b) for a in (RISE, FALL) for b in (RISE, FALL))


class Kind(Enum):
    """Why the end moves. What starts at a clock begins a path; all else goes on with one."""

    THROUGH = "through"  # gates, selectors, adders, open latches
    READ = "read"  # an address chooses another word
    ENABLE = "enable"  # the output is switched on
    DISABLE = "disable"  # the output is let go
    CLOCK = "clock"  # a register takes its data
    OPEN = "open"  # a latch opens
    SET = "set"  # a level overwrites a state


@dataclass(frozen=True, eq=False)
class PartArc:
    """Of one part, and equal only to itself. ``start`` and ``end`` are indices of pins. ``drive``: number of the drive
    in the behaviour, ``bit``: of its port. ``state``: what is clocked, opened or set, "" for the other kinds."""

    part: Part
    start: int
    end: int
    kind: Kind
    senses: frozenset[Sense]
    drive: int
    bit: int
    state: str = ""


class Place(NamedTuple):
    """A bit of a port, a state, or (``bit`` -1) what a memory shows."""

    name: str
    bit: int


@cache
def signs(expression: Expression, bit: int = 0) -> dict[Place, frozenset[int]]:
    """The ports, states and reads that a bit is made from, each with 1 where it goes the same way, -1 where it goes
    the other way, and both where that depends on others. Addresses of reads come along under their ports."""
    found: dict[Place, set[int]] = {}
    seen: set[tuple[Expression, int, int]] = set()
    waiting = [(expression, bit, 1)]
    while waiting:
        item = waiting.pop()
        if item in seen:
            continue
        seen.add(item)
        node, index, sign = item
        if node.operation is Operation.VARIABLE:
            found.setdefault(Place(str(node.data), index), set()).add(sign)
        if node.operation is Operation.READ:
            found.setdefault(Place(str(node.data), -1), set()).update((1, -1))
        waiting += _below(node, index, sign)
    return {place: frozenset(both) for place, both in found.items()}


def pins_of(part: Part, expression: Expression) -> tuple[int, ...]:
    """The pins that an expression of a part is made from, as indices in their order."""
    places = {place for bit in range(expression.width) for place in signs(expression, bit)}
    return tuple(sorted({part.ports[place.name][place.bit] for place in places if place.name in part.ports}))


def _below(node: Expression, index: int, sign: int) -> list[tuple[Expression, int, int]]:
    args = node.args
    match node.operation:
        case Operation.CONSTANT | Operation.VARIABLE:
            return []
        case Operation.NOT:
            return [(args[0], index, -sign)]
        case Operation.AND | Operation.OR:
            return [(argument, index, sign) for argument in args]
        case Operation.XOR:
            return _either((argument, index) for argument in args)
        case Operation.ADD:
            return _either((argument, at) for argument in args for at in range(index + 1))
        case Operation.MUX:
            return [*_either([(args[0], 0)]), (args[1], index, sign), (args[2], index, sign)]
        case Operation.SLICE:
            return [(args[0], index + int(node.data), sign)]  # type: ignore[arg-type]
        case Operation.REPLICATE:
            return [(args[0], 0, sign)]
        case Operation.CONCAT:
            return _beside(args, index, sign)
        case Operation.CASE:
            return [*_either(_bits(args[0])), *((argument, index, sign) for argument in args[1:])]
        case Operation.EQUAL if args[1].operation is Operation.CONSTANT:
            key = int(args[1].data)  # type: ignore[arg-type]
            return [(args[0], at, sign if key >> at & 1 else -sign) for at in range(args[0].width)]
        case _:
            return _either(pair for argument in args for pair in _bits(argument))


def _beside(args: Iterable[Expression], index: int, sign: int) -> list[tuple[Expression, int, int]]:
    for argument in args:
        if index < argument.width:
            return [(argument, index, sign)]
        index -= argument.width
    return []


def _either(bits: Iterable[tuple[Expression, int]]) -> list[tuple[Expression, int, int]]:
    return [(node, at, sign) for node, at in bits for sign in (1, -1)]


def _bits(node: Expression) -> list[tuple[Expression, int]]:
    return [(node, at) for at in range(node.width)]


@cache
def part_arcs(part: Part) -> tuple[PartArc, ...]:
    """Every arc of a part, in the order of its drives."""
    return tuple(arc for number, drive in enumerate(part.behaviour.drives) for arc in _Arcs(part, number, drive))


class _Arcs:
    """The arcs that end at the pins of one drive."""

    def __init__(self, part: Part, number: int, drive: Drive) -> None:
        self._part, self._number, self._drive = part, number, drive
        self._states: dict[str, Register | Latch] = {item.name: item for item in part.behaviour.registers}
        self._states |= {item.name: item for item in part.behaviour.latches}
        self._memories = {item.name: item for item in part.behaviour.memories}

    def __iter__(self) -> Iterator[PartArc]:
        for bit in range(len(self._part.ports[self._drive.port])):
            found: dict[tuple[int, Kind, str], set[Sense]] = {}
            for start, kind, state, sense in self._at(bit):
                found.setdefault((start, kind, state), set()).add(sense)
            end = self._part.ports[self._drive.port][bit]
            for (start, kind, state), senses in found.items():
                yield PartArc(self._part, start, end, kind, frozenset(senses), self._number, bit, state)

    def _at(self, bit: int) -> Iterator[tuple[int, Kind, str, Sense]]:
        yield from self._value(self._drive.value, bit)
        if self._drive.enable is not None and self._drive.kind is OutputKind.THREE_STATE:
            yield from self._enable(self._drive.enable)

    def _value(self, value: Expression, bit: int) -> Iterator[tuple[int, Kind, str, Sense]]:
        reads = _reads(value)
        for place, both in signs(value, bit).items():
            pins = self._part.ports.get(place.name)
            if pins is not None:
                kind = Kind.READ if reads and _addresses(reads, place) else Kind.THROUGH
                yield from ((pins[place.bit], kind, "", sense) for sense in _senses(both))
            elif place.name in self._states:
                yield from self._state(self._states[place.name], place.bit, both)
            elif place.name in self._memories and place.bit < 0:
                yield from self._written(self._memories[place.name])

    def _enable(self, enable: Expression) -> Iterator[tuple[int, Kind, str, Sense]]:
        for place, both in signs(enable).items():
            pins = self._part.ports.get(place.name)
            if pins is None:
                continue
            for sign in both:
                on = RISE if sign > 0 else FALL
                yield from ((pins[place.bit], Kind.ENABLE, "", (on, end)) for end in (RISE, FALL))
                yield from ((pins[place.bit], Kind.DISABLE, "", (1 - on, end)) for end in (RISE, FALL))

    def _state(self, item: Register | Latch, bit: int, both: frozenset[int]) -> Iterator[tuple[int, Kind, str, Sense]]:
        if isinstance(item, Register):
            for update in item.updates:
                yield from self._edges(update.clock, Kind.CLOCK, item.name)
        else:
            yield from self._edges(item.enable, Kind.OPEN, item.name)
            yield from self._passed(item.data, bit, both, item.name)
        for level in item.levels:
            yield from self._level(level, bit, both, item.name)

    def _edges(self, clock: Expression, kind: Kind, state: str) -> Iterator[tuple[int, Kind, str, Sense]]:
        """From the edges of pins with which ``clock`` may rise."""
        for place, both in signs(clock).items():
            pins = self._part.ports.get(place.name)
            if pins is not None:
                for sign in both:
                    yield from ((pins[place.bit], kind, state, (RISE if sign > 0 else FALL, e)) for e in (RISE, FALL))

    def _passed(
        self, data: Expression, bit: int, both: frozenset[int], state: str
    ) -> Iterator[tuple[int, Kind, str, Sense]]:
        """Data through an open latch."""
        for place, signs_in in signs(data, bit).items():
            pins = self._part.ports.get(place.name)
            if pins is not None:
                turned = frozenset(a * b for a in signs_in for b in both)
                yield from ((pins[place.bit], Kind.THROUGH, state, sense) for sense in _senses(turned))

    def _level(
        self, level: Level, bit: int, both: frozenset[int], state: str
    ) -> Iterator[tuple[int, Kind, str, Sense]]:
        """A set, a clear or a parallel load: it acts when its level comes, and passes its value on while it stays."""
        ends = set(EVERY)
        if level.value.operation is Operation.CONSTANT:
            stored = int(level.value.data) >> bit & 1  # type: ignore[arg-type]
            ends = {(RISE, stored if sign > 0 else 1 - stored) for sign in both}
        for place, signs_in in signs(level.active).items():
            pins = self._part.ports.get(place.name)
            if pins is not None:
                for sign in signs_in:
                    start = RISE if sign > 0 else FALL
                    yield from ((pins[place.bit], Kind.SET, state, (start, end)) for _, end in ends)
        yield from self._passed(level.value, bit, both, state)

    def _written(self, memory: Memory) -> Iterator[tuple[int, Kind, str, Sense]]:
        """A word that is written while it is shown: from the strobe, or at a clock."""
        for write in memory.writes:
            kind = Kind.CLOCK if write.clocked else Kind.OPEN
            yield from self._edges(write.strobe, kind, memory.name)


def _senses(both: frozenset[int]) -> Iterator[Sense]:
    for sign in both:
        yield from ((RISE, RISE), (FALL, FALL)) if sign > 0 else ((RISE, FALL), (FALL, RISE))


def _reads(expression: Expression) -> frozenset[Expression]:
    """The reads in an expression."""
    found = {expression} if expression.operation is Operation.READ else set()
    return frozenset(found.union(*(_reads(argument) for argument in expression.args)))


def _addresses(reads: Iterable[Expression], place: Place) -> bool:
    return any(place.name in {other.name for other in _variables(read)} for read in reads)


@cache
def _variables(node: Expression) -> frozenset[Place]:
    return frozenset(place for at in range(node.args[0].width) for place in signs(node.args[0], at))
