"""What a part does, bit by bit: its expressions as one graph over its pins and states, made once for a part."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from latchwork.analysis.lanes import Algebra, Evaluation
from latchwork.engines.compiled.errors import NotCompilable
from latchwork.engines.compiled.lanes.graph import ONE, ZERO, Graph, Kind, Literal
from latchwork.logic import Expression
from latchwork.parts import Behaviour, OutputKind, Part, TimerKind
from latchwork.parts.behaviour import Drive, Level

Bits = tuple[Literal, ...]


@dataclass(frozen=True)
class Output:
    """One bit that the part drives: while ``on``, ``pin`` is at ``value``. ``inputs``: pins it depends on."""

    pin: int
    value: Literal
    on: Literal
    inputs: frozenset[int]


@dataclass(frozen=True)
class Kept:
    """A register or latch: levels first, then updates at rising edges; ``follows``: enable and data of a latch."""

    name: str
    width: int
    levels: tuple[tuple[Literal, Bits], ...]
    updates: tuple[tuple[Literal, Bits], ...] = ()
    follows: tuple[Literal, Bits] | None = None
    wakes: int | None = None


@dataclass(frozen=True)
class Written:
    """A write port of a memory."""

    memory: str
    strobe: Literal
    address: Bits
    data: Bits
    clocked: bool


@dataclass
class Template:
    """``leaves``: what each leaf of the graph is, ("", index of a pin) or (name of a state, bit)."""

    part: Part
    graph: Graph = field(default_factory=Graph)
    leaves: list[tuple[str, int]] = field(default_factory=list)
    outputs: list[Output] = field(default_factory=list)
    kept: list[Kept] = field(default_factory=list)
    written: list[Written] = field(default_factory=list)


class _Pins:
    """The variables of the part's expressions."""

    def __init__(self, template: Template) -> None:
        self.template = template
        self.states = {name for name, _ in states_of(template.part.behaviour)}
        self._leaves: dict[tuple[str, int], Literal] = {}

    def variable(self, name: str, bit: int) -> Literal:
        if name in self.states:
            return self._leaf((name, bit))
        return self._leaf(("", self.template.part.ports[name][bit]))

    def _leaf(self, what: tuple[str, int]) -> Literal:
        if what not in self._leaves:
            self._leaves[what] = self.template.graph.leaf(len(self.template.leaves))
            self.template.leaves.append(what)
        return self._leaves[what]

    def memory(self, read: Expression, address: Callable[[], Sequence[Literal]], bit: int) -> Literal:
        return self.template.graph.read(str(read.data), tuple(address()), read.width)[bit]


def states_of(behaviour: Behaviour) -> Iterator[tuple[str, int]]:
    """Names and widths of registers, latches and timers."""
    yield from ((register.name, register.width) for register in behaviour.registers)
    yield from ((latch.name, latch.width) for latch in behaviour.latches)
    yield from ((timer.name, 1) for timer in behaviour.timers)


class Templates:
    """Of the parts of a machine, each made once. Parts are told by identity: to compare them takes long."""

    def __init__(self) -> None:
        self._made: dict[int, Template] = {}

    def of(self, part: Part) -> Template:
        """Raises NotCompilable where a net starts a timer of the part: its time would differ from lane to lane."""
        if id(part) not in self._made:
            for timer in part.behaviour.timers:
                if timer.kind in (TimerKind.PULSE, TimerKind.DELAY):
                    raise NotCompilable(f"{part.name} has a timer that starts with an edge")
            self._made[id(part)] = _Maker(part).template
        return self._made[id(part)]


class _Maker:
    def __init__(self, part: Part) -> None:
        self.template = Template(part)
        graph = self.template.graph
        algebra: Algebra[Literal] = Algebra(
            fixed=lambda _, level: ONE if level else ZERO,
            open=lambda _: ZERO,
            never=lambda a, _: a == ZERO,
            flip=lambda a: a ^ 1,
            both=graph.both,
            differ=graph.differ,
            choose=graph.choose,
            majority=graph.majority,
        )
        self.evaluation: Evaluation[Literal] = Evaluation(1, _Pins(self.template), algebra)
        behaviour = part.behaviour
        for drive in behaviour.drives:
            self.template.outputs.extend(self._outputs(drive))
        self._states(behaviour)
        for memory in behaviour.memories:
            self.template.written.extend(
                Written(
                    memory.name, self.evaluation.bit(w.strobe), self._bits(w.address), self._bits(w.data), w.clocked
                )
                for w in memory.writes
            )

    def _bits(self, expression: Expression) -> Bits:
        return tuple(self.evaluation.bit(expression, index) for index in range(expression.width))

    def _outputs(self, drive: Drive) -> Iterator[Output]:
        enable = ONE if drive.enable is None else self.evaluation.bit(drive.enable)
        for pin, value in zip(self.template.part.ports[drive.port], self._bits(drive.value), strict=True):
            if drive.kind is OutputKind.OPEN_COLLECTOR:
                yield Output(pin, ZERO, value ^ 1, self._inputs(value))
            else:
                yield Output(pin, value, enable, self._inputs(value) | self._inputs(enable))

    def _states(self, behaviour: Behaviour) -> None:
        for register in behaviour.registers:
            updates = tuple((self.evaluation.bit(u.clock), self._bits(u.data)) for u in register.updates)
            levels = self._levels(register.levels)
            self.template.kept.append(Kept(register.name, register.width, levels, updates, wakes=register.wakes))
        for latch in behaviour.latches:
            follows = self.evaluation.bit(latch.enable), self._bits(latch.data)
            self.template.kept.append(Kept(latch.name, latch.width, self._levels(latch.levels), follows=follows))

    def _levels(self, levels: tuple[Level, ...]) -> tuple[tuple[Literal, Bits], ...]:
        return tuple((self.evaluation.bit(level.active), self._bits(level.value)) for level in levels)

    def _inputs(self, literal: Literal) -> frozenset[int]:
        """The pins that a literal depends on."""
        graph, pins, seen, waiting = self.template.graph, set(), {literal >> 1}, [literal >> 1]
        while waiting:
            node = graph.nodes[waiting.pop()]
            if node.kind is Kind.LEAF:
                name, index = self.template.leaves[node.a]
                pins |= set() if name else {index}
            for argument in graph.arguments(node):
                if argument >> 1 not in seen:
                    seen.add(argument >> 1)
                    waiting.append(argument >> 1)
        return frozenset(pins)
