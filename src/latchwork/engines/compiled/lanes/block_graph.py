"""All that a block of machines does in one round, as a graph of bits: what nets carry, and what is kept next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import NamedTuple

from latchwork.engines.compiled.lanes.differences import Difference, Nets
from latchwork.engines.compiled.lanes.graph import ZERO, Graph, Kind, Literal
from latchwork.engines.compiled.lanes.instances import Instance, instances
from latchwork.engines.compiled.lanes.levels import Levels
from latchwork.engines.compiled.lanes.template import Kept
from latchwork.engines.seeding import seeded
from latchwork.netlist import ChipId, NetId

StoreKey = tuple[ChipId, int, str]
"""A memory: chip, identity of its part, name."""


class Slot(NamedTuple):
    """A bit of a register, latch or timer of an instance."""

    instance: int
    name: str
    bit: int


class Change(NamedTuple):
    """A leaf, and what it is to become."""

    leaf: Literal
    following: Literal


class BlockWrite(NamedTuple):
    """A write port; what it does is done before anything else of the round."""

    store: StoreKey
    strobe: Literal
    address: tuple[Literal, ...]
    data: tuple[Literal, ...]


@dataclass
class BlockGraph:
    """``slots`` hold what chips keep, ``previous`` what stood in the round before, ``kept`` what keepers hold."""

    nets: Nets
    graph: Graph
    chips: list[Instance]
    seed: int
    leaves: list[object] = field(default_factory=list)
    of_slot: dict[Slot, Literal] = field(default_factory=dict)
    slots: list[Change] = field(default_factory=list)
    previous: dict[int, Literal] = field(default_factory=dict)  # node -> leaf
    of_keeper: dict[tuple[int, int], Literal] = field(default_factory=dict)
    kept: list[Change] = field(default_factory=list)
    writes: list[BlockWrite] = field(default_factory=list)

    def slot(self, instance: int, name: str, bit: int) -> Literal:
        return self._leaf(self.of_slot, Slot(instance, name, bit))

    def keeper(self, instance: int, number: int) -> Literal:
        return self._leaf(self.of_keeper, (instance, number))

    def before(self, literal: Literal) -> Literal:
        """What the literal was in the round before."""
        if self.graph.mask_of(literal) is not None:
            return literal
        return self._leaf(self.previous, literal >> 1) ^ literal & 1

    def _leaf(self, known: dict, key: object) -> Literal:  # type: ignore[type-arg]
        if key not in known:
            known[key] = self.graph.leaf(len(self.leaves))
            self.leaves.append(key)
        found: Literal = known[key]
        return found

    def choice(self, net: NetId) -> int:
        return seeded(self.seed, f"net {self.nets.names[net]}")

    def later(self, literal: Literal) -> Literal:
        """A literal that is read after leaves have begun to change."""
        node = self.graph.nodes[literal >> 1]
        return self.graph.copy(literal) if node.kind is Kind.LEAF else literal


def block_graph(nets: Nets, lanes: Sequence[Difference], width: int, seed: int) -> tuple[BlockGraph, Levels]:
    """The graph of machines with these differences; ``width`` lanes, of which those beyond are like lane 0."""
    graph = Graph(width)
    chips = instances(nets, lanes, graph.full)
    block = BlockGraph(nets, graph, chips, seed)
    levels = Levels(nets, graph, chips, block, cache(block.choice))
    for number in range(len(chips)):
        _keep(block, levels, number)
    for (number, place), leaf in sorted(block.of_keeper.items()):
        block.kept.append(Change(leaf, block.later(_kept(block, levels, number, place, leaf))))
    return block, levels


def _keep(block: BlockGraph, levels: Levels, number: int) -> None:
    chip, rewriter, graph = block.chips[number], levels.rewriters[number], block.graph
    present = graph.mask(chip.present)
    for kept in chip.template.kept:
        following = _following(block, levels, number, kept)
        for bit, value in enumerate(following):
            leaf = block.slot(number, kept.name, bit)
            block.slots.append(Change(leaf, block.later(graph.choose(present, value, leaf))))
    for written in chip.template.written:
        strobe, address, data = (
            rewriter.literal(written.strobe), rewriter.bits(written.address), rewriter.bits(written.data)
        )  # fmt: skip
        if written.clocked:
            strobe = graph.both(strobe, block.before(strobe) ^ 1)
            address, data = (tuple(map(block.before, bits)) for bits in (address, data))
        strobe = graph.both(strobe, present)
        if strobe != ZERO:
            block.writes.append(BlockWrite((chip.chip, id(chip.part), written.memory), strobe, address, data))


def _following(block: BlockGraph, levels: Levels, number: int, kept: Kept) -> Iterable[Literal]:
    """What a register or latch takes in this round."""
    graph, rewriter = block.graph, levels.rewriters[number]
    values = [block.slot(number, kept.name, bit) for bit in range(kept.width)]
    for clock, data in reversed(kept.updates):
        now = rewriter.literal(clock)
        rises = graph.both(now, block.before(now) ^ 1)
        if rises != ZERO:
            taken = [block.before(rewriter.literal(each)) for each in data]
            values = [graph.choose(rises, new, old) for new, old in zip(taken, values, strict=True)]
    if kept.follows is not None:
        enable = rewriter.literal(kept.follows[0])
        taken = [rewriter.literal(each) for each in kept.follows[1]]
        values = [graph.choose(enable, new, old) for new, old in zip(taken, values, strict=True)]
    for active, value in reversed(kept.levels):
        now = rewriter.literal(active)
        values = [graph.choose(now, rewriter.literal(a), b) for a, b in zip(value, values, strict=True)]
    return values


def _kept(block: BlockGraph, levels: Levels, number: int, place: int, leaf: Literal) -> Literal:
    """A keeper takes the level of its net where something else gives one."""
    graph, chip = block.graph, block.chips[number]
    pins = [bit for keeper in chip.part.behaviour.keepers for bit in chip.port(keeper.port)][place]
    found = leaf
    for net, lanes in pins.items():
        level, has = levels.driven(net)
        found = graph.choose(graph.both(has, graph.mask(lanes)), level, found)
    return found
