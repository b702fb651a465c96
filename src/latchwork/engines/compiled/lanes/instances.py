"""The chips of a block of machines, with the lanes in which each pin lies on which net."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from latchwork.engines.compiled.lanes.differences import Difference, Nets, Placed
from latchwork.engines.compiled.lanes.graph import Graph, Kind, Literal
from latchwork.engines.compiled.lanes.template import Template
from latchwork.netlist import ChipId, NetId
from latchwork.parts import Part

Lanes = int
"""A set of lanes, one bit each."""


@dataclass
class Instance:
    """A part in its socket, ``present`` in some lanes. ``pins``: for each pin its nets, each with its lanes."""

    chip: ChipId
    part: Part
    template: Template
    present: Lanes
    pins: list[dict[NetId, Lanes]] = field(default_factory=list)

    def port(self, name: str) -> list[dict[NetId, Lanes]]:
        return [self.pins[index] for index in self.part.ports[name]]


def instances(nets: Nets, lanes: Sequence[Difference], full: Lanes) -> list[Instance]:
    """All chips of a block; lane i is the machine with difference i, lanes beyond are like lane 0."""
    placed: dict[ChipId, list[tuple[Lanes, Placed]]] = {}
    for number, difference in enumerate(lanes):
        for chip, other in difference.chips.items():
            placed.setdefault(chip, []).append((1 << number, other))
    found: list[Instance] = []
    for chip in range(len(nets.base)):
        found.extend(_of_chip(nets, chip, placed.get(chip, ()), full))
    return found


def _of_chip(nets: Nets, chip: ChipId, others: Sequence[tuple[Lanes, Placed]], full: Lanes) -> Iterator[Instance]:
    base, changed = nets.base[chip], sum(lane for lane, _ in others)
    parts: dict[int, list[tuple[Lanes, Placed]]] = {id(base.part): [(full & ~changed, base)]}
    for each in others:
        parts.setdefault(id(each[1].part), []).append(each)
    for same in parts.values():
        part = same[0][1].part
        instance = Instance(chip, part, nets.templates.of(part), sum(lane for lane, _ in same))
        for index in range(len(part.pins)):
            on: dict[NetId, Lanes] = {}
            for lane, placed in same:
                on[placed.nets[index]] = on.get(placed.nets[index], 0) | lane
            instance.pins.append(on)
        yield instance


class Rewriter:
    """Writes literals of an instance's template into the graph of the block, each node once."""

    def __init__(self, graph: Graph, instance: Instance, leaf: Callable[[str, int], Literal]) -> None:
        self._graph = graph
        self._template = instance.template
        self._leaf = leaf  # name of a state, or "", and its bit or the pin
        self._instance = instance
        self._done: dict[int, Literal] = {0: 0}

    def literal(self, literal: Literal) -> Literal:
        number = literal >> 1
        found = self._done.get(number)
        if found is None:
            found = self._done[number] = self._written(number)
        return found ^ literal & 1

    def bits(self, literals: Sequence[Literal]) -> tuple[Literal, ...]:
        return tuple(self.literal(each) for each in literals)

    def _written(self, number: int) -> Literal:
        node, graph = self._template.graph.nodes[number], self._graph
        match node.kind:
            case Kind.LEAF:
                return self._leaf(*self._template.leaves[node.a])
            case Kind.AND:
                return graph.both(self.literal(node.a), self.literal(node.b))
            case Kind.XOR:
                return graph.differ(self.literal(node.a), self.literal(node.b))
            case Kind.CHOICE:
                return graph.choose(self.literal(node.c), self.literal(node.a), self.literal(node.b))
            case _:
                read = self._template.graph.reads[node.a]
                memory = self._instance.chip, id(self._instance.part), str(read.memory)
                return graph.read(memory, self.bits(read.address), read.width)[node.b]
