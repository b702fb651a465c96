"""Arcs of a whole netlist in one corner: from a net with an edge to a net with an edge.

A *node* is twice the index of a net, plus 1 where it is the rising edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from latchwork.analysis.arrival.activity import Activity
from latchwork.analysis.arrival.loads import SOLDERLESS, Boards, Loads
from latchwork.analysis.arrival.senses import Kind, PartArc
from latchwork.analysis.arrival.times import Corner, Time, arc_time
from latchwork.analysis.wiring import Wiring
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver
from latchwork.parts import TieKind

Node = int


class Arc(NamedTuple):
    """``picoseconds``: ``time`` of the sheet and what the net adds. ``part_arc`` None: a resistor in series."""

    start: Node
    end: Node
    chip: ChipId
    part_arc: PartArc | None
    picoseconds: int
    time: Time
    mask: int

    @property
    def kind(self) -> Kind:
        return Kind.THROUGH if self.part_arc is None else self.part_arc.kind

    @property
    def state(self) -> str:
        """What it goes through, opens, clocks or sets: "" for gates."""
        return "" if self.part_arc is None else self.part_arc.state


def node(net: NetId, edge: int) -> Node:
    return 2 * net + edge


class Graph:
    """``into``: arcs by the node at which they end; ``out``: by the one at which they start. Of all chips, if none are
    named."""

    def __init__(
        self,
        wiring: Wiring,
        activity: Activity,
        corner: Corner,
        boards: Boards = SOLDERLESS,
        *,
        chips: Iterable[ChipId] | None = None,
    ) -> None:
        self.wiring, self.activity, self.corner = wiring, activity, corner
        self.loads = Loads(wiring, boards)
        self.into: list[list[Arc]] = [[] for _ in range(2 * len(wiring.netlist.nets))]
        self.out: list[list[Arc]] = [[] for _ in self.into]
        for chip in range(len(wiring.netlist.chips)) if chips is None else chips:
            for arc in (*self._of_chip(chip), *self._of_ties(chip)):
                self.into[arc.end].append(arc)
                self.out[arc.start].append(arc)

    def _of_chip(self, chip: ChipId) -> Iterator[Arc]:
        pins = self.wiring.netlist.chips[chip].pins
        for arc in self.activity.arcs_of(chip):
            if pins[arc.end] == NO_NET:
                continue
            masks = [self.activity.arc(chip, arc, edge) for edge in (0, 1)]
            for start, end in sorted(arc.senses):
                if masks[start]:
                    yield from self._of_sense(chip, arc, (start, end), masks[start])

    def _of_sense(self, chip: ChipId, arc: PartArc, sense: tuple[int, int], mask: int) -> Iterator[Arc]:
        pins = self.wiring.netlist.chips[chip].pins
        net, time = pins[arc.end], arc_time(arc, sense[1], self.corner)
        more = self.loads.of_driver(Driver(chip, arc.drive, arc.bit, arc.end), net, sense[1], time.load, self.corner)
        start, end, took = node(pins[arc.start], sense[0]), node(net, sense[1]), time.picoseconds + more
        idle = self.activity.idle(net) & mask if arc.kind is Kind.DISABLE else 0
        if mask & ~idle:
            yield Arc(start, end, chip, arc, took, time, mask & ~idle)
        pull = self.loads.pulled(net, sense[1], self.corner) if idle else 0
        if pull:
            yield Arc(start, end, chip, arc, took + pull, time, idle)

    def _of_ties(self, chip: ChipId) -> Iterator[Arc]:
        """Resistors between two nets, from the driven one to the one that nothing else drives."""
        for tie in self.wiring.netlist.part_of(chip).behaviour.ties:
            ends = [self.wiring.netlist.nets_of(chip, port)[0] for port in (tie.a, tie.b)]
            if tie.kind is not TieKind.RESISTOR or NO_NET in ends:
                continue
            for near, far in (ends, ends[::-1]):
                if self.wiring.drivers[near] and not self.wiring.drivers[far] and far not in self.wiring.levels:
                    yield from self._of_resistor(chip, near, far)

    def _of_resistor(self, chip: ChipId, near: NetId, far: NetId) -> Iterator[Arc]:
        ohms = [int(value) for name, value in self.wiring.netlist.chips[chip].parameters if name == "ohms"]
        delay = round(0.7 * (ohms[0] if ohms else 0) * self.loads.picofarads(far, self.corner))
        for edge in (0, 1):
            time = Time(delay, 0, "0.7 R C", "computed")
            yield Arc(node(near, edge), node(far, edge), chip, None, delay, time, self.activity.all)
