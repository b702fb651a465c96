"""Which machines share a block.

Nets of a block are worked out in one order for all its machines. A fault that makes a net depend on others turns that
order, and two faults together may close a circle that neither closes alone; a circle is slow. So machines are put
where they close none; those that close one by themselves go where what is in circles stays small.

The order is kept as edges come: Pearce and Kelly, "A dynamic topological sort algorithm for directed acyclic graphs",
ACM J. Exp. Algorithmics 11 (2006).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from latchwork.engines.compiled.lanes.dependence import Edge, carrying, driving, edges_of
from latchwork.engines.compiled.lanes.differences import Difference, Nets
from latchwork.engines.compiled.lanes.template import Template
from latchwork.engines.ordering import ordered_components
from latchwork.netlist import ChipId, NetId

IN_CIRCLES = (16, 32, 64)
"""Nodes of a block that may lie in circles which the machine without a fault does not have: the first number is tried
in all blocks, then the next."""


def packed(nets: Nets, differences: Sequence[Difference], most: int) -> list[list[int]]:
    """Numbers of differences, by block, at most ``most`` each; one block at least."""
    base = _Base(nets)
    count = max(1, -(-len(differences) // most))
    blocks = [_Block(base) for _ in range(count)]
    fair = -(-len(differences) // count)
    left: list[int] = []
    for number, difference in enumerate(differences):
        if not any(len(block.members) < fair and block.takes(number, difference) for block in blocks):
            left.append(number)
    for limit in IN_CIRCLES:
        left = [
            number for number in left
            if not any(len(block.members) < most and block.takes(number, differences[number], limit)
                       for block in blocks)
        ]  # fmt: skip
    found = [block.members for block in blocks if block.members]
    return [*found, *(left[at : at + most] for at in range(0, len(left), most))] or [[]]


class _Base:
    """The machine without a fault: ``place`` is the circle or node that a node belongs to, numbered in order."""

    def __init__(self, nets: Nets) -> None:
        self.nets = nets
        self.rails = {nets.netlist.high, nets.netlist.low}
        self.count = 2 * len(nets.names)
        self.templates = [nets.templates.of(placed.part) for placed in nets.base]
        pins = [[{net} for net in placed.nets] for placed in nets.base]
        self.edges = {
            edge
            for template, each in zip(self.templates, pins, strict=True)
            for edge in edges_of(template, each, self.rails)
        }
        self.edges.update((driving(net), carrying(net)) for net in range(len(nets.names)) if net not in self.rails)
        successors: list[list[int]] = [[] for _ in range(self.count)]
        for source, target in self.edges:
            successors[source].append(target)
        self.place = [0] * self.count
        for number, component in enumerate(ordered_components(successors)):
            for node in component:
                self.place[node] = number

    def placed(self, edge: Edge) -> Edge:
        return self.place[edge[0]], self.place[edge[1]]


class _Block:
    def __init__(self, base: _Base) -> None:
        self.members: list[int] = []
        self._base = base
        self._pins: dict[tuple[ChipId, int], list[set[NetId]]] = {}  # by chip and part: nets of each pin
        self._order = _Order(max(base.place, default=0) + 1, {base.placed(edge) for edge in base.edges})

    def takes(self, number: int, difference: Difference, in_circles: int = 0) -> bool:
        """Put a machine into this block, if no more than so many nodes then lie in circles."""
        changed: dict[tuple[ChipId, int], tuple[Template, list[set[NetId]]]] = {}
        for chip, placed in difference.chips.items():
            template = self._base.nets.templates.of(placed.part)
            known = self._pins.get((chip, id(placed.part))) or self._first(chip, template)
            pins = [nets | {net} for nets, net in zip(known, placed.nets, strict=True)]
            changed[chip, id(placed.part)] = template, pins
        edges = {
            self._base.placed(edge)
            for template, pins in changed.values()
            for edge in edges_of(template, pins, self._base.rails)
        }
        if not (self._order.add_circles(edges, in_circles) if in_circles else self._order.add(edges)):
            return False
        self._pins.update({key: pins for key, (_, pins) in changed.items()})
        self.members.append(number)
        return True

    def _first(self, chip: ChipId, template: Template) -> list[set[NetId]]:
        placed = self._base.nets.base[chip]
        if template.part is placed.part:
            return [{net} for net in placed.nets]
        return [set() for _ in template.part.pins]


class _Order:
    """A graph, and an order of its nodes in which edges run forward as long as there are no circles."""

    def __init__(self, count: int, edges: Iterable[Edge]) -> None:
        self._rank = list(range(count))
        self._after: dict[int, set[int]] = defaultdict(set)
        self._before: dict[int, set[int]] = defaultdict(set)
        self._back: set[Edge] = set()  # those that run backward: each closes a circle
        for source, target in edges:
            if source != target:
                self._join(source, target)

    def _join(self, source: int, target: int) -> None:
        self._after[source].add(target)
        self._before[target].add(source)

    def add(self, edges: Iterable[Edge]) -> bool:
        """All of the edges, or none where they close a circle."""
        added: list[Edge] = []
        for source, target in edges:
            if source == target or target in self._after[source]:
                continue
            if not self._makes_room(source, target):
                self._part(added)
                return False
            self._join(source, target)
            added.append((source, target))
        return True

    def _part(self, edges: Iterable[Edge]) -> None:
        for source, target in edges:
            self._after[source].discard(target)
            self._before[target].discard(source)

    def add_circles(self, edges: Iterable[Edge], most: int) -> bool:
        """All of the edges, or none where more than ``most`` nodes would lie in circles. From then on only this may
        add any: the order stays as it is."""
        new = {(a, b) for a, b in edges if a != b and b not in self._after[a]}
        for edge in new:
            self._join(*edge)
        back = self._back | {edge for edge in new if self._rank[edge[0]] > self._rank[edge[1]]}
        inside: set[int] = set()
        for source, target in back:
            if source not in inside or target not in inside:
                onward = self._reached(target, self._after, 0, len(self._rank))
                if source in onward:
                    inside |= onward & self._reached(source, self._before, 0, len(self._rank))
                    if len(inside) > most:
                        break
        if len(inside) > most:
            self._part(new)
            return False
        self._back = back
        return True

    def _makes_room(self, source: int, target: int) -> bool:
        """Turn the order so that target follows source; False where source follows target already."""
        rank = self._rank
        if rank[source] < rank[target]:
            return True
        onward = self._reached(target, self._after, 0, rank[source])
        if source in onward:
            return False
        back = self._reached(source, self._before, rank[target], len(rank))
        moved = sorted(back, key=rank.__getitem__) + sorted(onward, key=rank.__getitem__)
        for node, place in zip(moved, sorted(rank[node] for node in moved), strict=True):
            rank[node] = place
        return True

    def _reached(self, start: int, neighbours: Mapping[int, set[int]], low: int, high: int) -> set[int]:
        """Nodes to be reached by way of nodes between two ranks."""
        rank, found, waiting = self._rank, {start}, [start]
        while waiting:
            for node in neighbours.get(waiting.pop(), ()):
                if node not in found and low <= rank[node] <= high:
                    found.add(node)
                    waiting.append(node)
        return found
