"""What each net of a block carries, as bits of the graph.

A net is a pair of literals: whether something gives it a level, and the level (0 where nothing does). Drivers, closed
switches to a rail, resistors and keepers count in the lanes in which their pin lies on the net. Nets come in an order
in which each follows those it depends on. In a circle the nets that are asked for too early are *held*: a literal
stands for them, and ``loops`` says what it is to become.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from latchwork.engines.compiled.lanes.dependence import carrying, driving, edges_of
from latchwork.engines.compiled.lanes.differences import Nets, is_closed
from latchwork.engines.compiled.lanes.graph import ONE, Graph, Literal
from latchwork.engines.compiled.lanes.instances import Instance, Lanes, Rewriter
from latchwork.engines.ordering import ordered_components
from latchwork.netlist import NetId
from latchwork.parts import Floating, TieKind

Level = tuple[Literal, Literal]
"""The level, and whether there is one."""

Source = tuple[Literal, Literal]
"""Of one thing on a net: its level, and where it gives it."""


@dataclass
class Loop:
    """Literals that stand for nets of a circle, each with what it becomes."""

    holds: list[tuple[Literal, Literal]] = field(default_factory=list)


@dataclass
class _Net:
    """What is on a net, each with its lanes."""

    drives: list[tuple[int, int, Lanes]] = field(default_factory=list)  # instance, output of its template
    rails: list[tuple[int, Lanes]] = field(default_factory=list)  # closed switches: level
    links: list[tuple[NetId, Lanes]] = field(default_factory=list)
    keepers: list[tuple[int, int, Lanes]] = field(default_factory=list)  # instance, number of its keeper bit
    always: Lanes = 0  # where something gives a level at all times


class Leaves(Protocol):
    """Gives literals for what is kept."""

    def slot(self, instance: int, name: str, bit: int) -> Literal: ...

    def keeper(self, instance: int, number: int) -> Literal: ...


class Levels:
    """``choice(net)`` is what a net is where both levels are possible, or none at an input that reads anything."""

    def __init__(
        self,
        nets: Nets,
        graph: Graph,
        chips: Sequence[Instance],
        leaves: Leaves,
        choice: Callable[[NetId], int],
    ) -> None:
        self._graph = graph
        self._chips = chips
        self._leaves = leaves
        self._choice = choice
        self._rails = {nets.netlist.high: 1, nets.netlist.low: 0}
        self._netlist = nets.netlist
        self.loops: list[Loop] = []
        self._done: dict[int, Level] = {}
        self._early: dict[int, Level] = {}
        self._nets = [_Net() for _ in nets.names]
        self._collect()
        self.rewriters = [
            Rewriter(graph, each, lambda name, index, number=number: (  # type: ignore[misc]
                leaves.slot(number, name, index) if name else self.pin(number, index)
            ))
            for number, each in enumerate(chips)
        ]  # fmt: skip
        for component in self._components():
            self._resolve(component)

    # Reading

    def net(self, net: NetId) -> Level:
        """What the net carries in the end."""
        return self._done[carrying(net)]

    def driven(self, net: NetId) -> Level:
        """What it carries without its keepers."""
        return self._without_keepers(net)

    def pin(self, instance: int, pin: int) -> Literal:
        """What an input reads."""
        chip = self._chips[instance]
        cmos = chip.part.floating is Floating.UNKNOWN
        on = sorted(chip.pins[pin].items(), key=lambda each: -each[1].bit_count())
        found = self._read(on[0][0], cmos)
        for net, lanes in on[1:]:
            found = self._graph.choose(self._graph.mask(lanes), self._read(net, cmos), found)
        return found

    def _read(self, net: NetId, cmos: bool) -> Literal:
        level, has = self._level(carrying(net))
        return self._graph.either(level, has ^ 1) if not cmos or self._choice(net) else level

    # What is on the nets

    def _collect(self) -> None:
        for number, chip in enumerate(self._chips):
            for place, output in enumerate(chip.template.outputs):
                for net, lanes in chip.pins[output.pin].items():
                    self._nets[net].drives.append((number, place, lanes))
                    self._nets[net].always |= lanes if output.on == ONE else 0
            self._collect_ties(chip)
            bits = [bit for keeper in chip.part.behaviour.keepers for bit in chip.port(keeper.port)]
            for place, nets in enumerate(bits):
                for net, lanes in nets.items():
                    self._nets[net].keepers.append((number, place, lanes))
                    self._nets[net].always |= lanes

    def _collect_ties(self, chip: Instance) -> None:
        closed = is_closed(self._netlist.chips[chip.chip])
        for tie in chip.part.behaviour.ties:
            (nets_a,), (nets_b,) = chip.port(tie.a), chip.port(tie.b)
            for a, lanes_a in nets_a.items():
                for b, lanes_b in nets_b.items():
                    if a != b and lanes_a & lanes_b:
                        self._tie(tie.kind, closed, (a, b), lanes_a & lanes_b)

    def _tie(self, kind: TieKind, closed: bool, ends: tuple[NetId, NetId], lanes: Lanes) -> None:
        for net, other in (ends, ends[::-1]):
            if kind is TieKind.RESISTOR:
                self._nets[net].links.append((other, lanes))
                self._nets[net].always |= lanes if other in self._rails else 0
            elif closed and other in self._rails and net not in self._rails:
                self._nets[net].rails.append((self._rails[other], lanes))
                self._nets[net].always |= lanes

    # Order

    def _components(self) -> list[tuple[int, ...]]:
        """Nodes of ``dependence`` that depend on each other, in order."""
        successors: list[set[int]] = [set() for _ in range(2 * len(self._nets))]
        for net in set(range(len(self._nets))) - self._rails.keys():
            successors[driving(net)].add(carrying(net))
        for chip in self._chips:
            for source, target in edges_of(chip.template, chip.pins, self._rails):
                successors[source].add(target)
        self._successors = [sorted(each) for each in successors]
        return ordered_components(self._successors)

    def _resolve(self, component: tuple[int, ...]) -> None:
        if len(component) == 1 and component[0] not in self._successors[component[0]]:
            self._done[component[0]] = self._worked_out(component[0])
            return
        self._early = {}
        holds = []
        for node in self._in_order(component):
            level = self._worked_out(node)
            self._done[node] = level
            if node in self._early:
                holds += [pair for pair in zip(self._early[node], level, strict=True) if pair[0] > ONE]
        self.loops.append(Loop(holds))

    def _in_order(self, component: Iterable[int]) -> list[int]:
        """The nodes of a circle, each after most of those it depends on."""
        inside = set(component)
        found: list[int] = []
        seen: set[int] = set()
        for start in sorted(inside):
            path = [] if start in seen else [(start, iter(self._successors[start]))]
            seen.add(start)
            while path:
                following = path[-1][1]
                for other in following:
                    if other in inside and other not in seen:
                        seen.add(other)
                        path.append((other, iter(self._successors[other])))
                        break
                else:
                    found.append(path.pop()[0])
        return found[::-1]

    def _level(self, node: int) -> Level:
        """Of a node that is done, or else one of the circle at hand, for which a literal stands."""
        found = self._done.get(node)
        if found is None:
            found = self._early.get(node)
        if found is None:
            always = node & 1 and self._nets[node >> 1].always == self._graph.full
            found = self._early[node] = self._graph.hold(), ONE if always else self._graph.hold()
        return found

    # Working out

    def _worked_out(self, node: int) -> Level:
        net, carried = divmod(node, 2)
        if net in self._rails:
            return self._rails[net], ONE
        return self._carried(net) if carried else self._strong(net)

    def _strong(self, net: NetId) -> Level:
        row, mask = self._nets[net], self._graph.mask
        sources: list[Source] = [(level, mask(lanes)) for level, lanes in row.rails]
        for number, place, lanes in row.drives:
            rewriter, output = self.rewriters[number], self._chips[number].template.outputs[place]
            sources.append((rewriter.literal(output.value), self._graph.both(rewriter.literal(output.on), mask(lanes))))
        return self._together(net, sources)

    def _without_keepers(self, net: NetId) -> Level:
        if net in self._rails:
            return self._rails[net], ONE
        strong = self._level(driving(net))
        links = [(self._level(driving(other)), lanes) for other, lanes in self._nets[net].links]
        weak = [(level, self._graph.both(has, self._graph.mask(lanes))) for (level, has), lanes in links]
        return self._filled(strong, self._together(net, weak))

    def _carried(self, net: NetId) -> Level:
        rows = self._nets[net].keepers
        kept = [(self._leaves.keeper(number, place), self._graph.mask(lanes)) for number, place, lanes in rows]
        return self._filled(self._without_keepers(net), self._together(net, kept))

    def _filled(self, first: Level, second: Level) -> Level:
        """The first, and the second where the first has none."""
        graph = self._graph
        level = graph.either(first[0], graph.both(second[0], first[1] ^ 1))
        return level, graph.either(first[1], second[1])

    def _together(self, net: NetId, sources: Sequence[Source]) -> Level:
        """Sources of one strength: where both levels are given the choice of the net counts."""
        graph = self._graph
        has = graph.any_of([on for _, on in sources])
        if len(sources) == 1 or self._choice(net):
            return graph.any_of([graph.both(level, on) for level, on in sources]), has
        low = graph.any_of([graph.both(level ^ 1, on) for level, on in sources])
        return graph.both(has, low ^ 1), has
