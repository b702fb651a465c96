"""Gates that let the clock through or stop it: what steers them must hold still while they are open.

A pin *steers* where the output depends on it only at one level of the clock at another pin: an or of a write line and
the clock lets the line through while the clock is low. It has to be there before the clock comes to that level, and
stay until it has left. After the other edge its changes stop at the gate. Only gates on the way to a pin that
acts on its own count: clocks, latch enables, write strobes. Inside a chip the same holds for the pins that make its
clock or its strobe together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from latchwork.analysis.arrival.checks import Demand, Hold
from latchwork.analysis.arrival.graph import Graph, Node, node
from latchwork.analysis.arrival.senses import FALL, RISE, Kind, pins_of, signs
from latchwork.analysis.arrival.times import Time
from latchwork.logic import Expression
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Behaviour

AT_ONCE = Time(0, 0, "the gate must be at rest while the clock passes it", "computed")


class Steering(NamedTuple):
    """``pin`` steers the clock at pin ``at`` while that is at ``level``, in the lanes of ``mask``. ``output``: the net
    of the gate; NO_NET inside a chip."""

    chip: ChipId
    pin: int
    at: int
    level: int
    output: NetId
    mask: int


def strobes(graph: Graph) -> dict[tuple[ChipId, int], list[Expression]]:
    """Pins that act on their own, with the expressions that they act in."""
    found: dict[tuple[ChipId, int], list[Expression]] = {}
    for chip in range(len(graph.wiring.netlist.chips)):
        part = graph.wiring.netlist.part_of(chip)
        for expression in acting(part.behaviour):
            for pin in pins_of(part, expression):
                found.setdefault((chip, pin), []).append(expression)
    return found


def acting(behaviour: Behaviour) -> list[Expression]:
    """Clocks, enables of latches and strobes of a part."""
    return [
        *(update.clock for register in behaviour.registers for update in register.updates),
        *(latch.enable for latch in behaviour.latches),
        *(write.strobe for memory in behaviour.memories for write in memory.writes),
    ]


class Gates:
    """``clock_nets``: those that the clock reaches through gates."""

    def __init__(self, graph: Graph, clock_nets: frozenset[NetId]) -> None:
        self.graph, self.clock_nets = graph, clock_nets
        self.netlist, self.activity = graph.wiring.netlist, graph.activity
        self.strobes = strobes(graph)
        self.found = (*self._between(), *self._inside())

    def _between(self) -> Iterator[Steering]:
        done = set()
        for net in sorted(self._to_strobes()):
            for arc in (*self.graph.into[node(net, FALL)], *self.graph.into[node(net, RISE)]):
                if arc.part_arc is None or arc.kind is not Kind.THROUGH or arc.state:
                    continue
                key = (arc.chip, arc.part_arc.drive, arc.part_arc.bit)
                if key not in done:
                    done.add(key)
                    drive = self.netlist.part_of(arc.chip).behaviour.drives[arc.part_arc.drive]
                    yield from self._at_gate(arc.chip, drive.value, arc.part_arc.bit, net)

    def _inside(self) -> Iterator[Steering]:
        for chip in range(len(self.netlist.chips)):
            for expression in dict.fromkeys(acting(self.netlist.part_of(chip).behaviour)):
                yield from self._at_gate(chip, expression, 0, NO_NET)

    def _to_strobes(self) -> set[NetId]:
        """Clock nets from which a strobe is reached through clock nets."""
        pins = self.netlist.chips
        found = {pins[chip].pins[pin] for chip, pin in self.strobes} & self.clock_nets
        waiting = list(found)
        while waiting:
            net = waiting.pop()
            for arc in (*self.graph.into[node(net, FALL)], *self.graph.into[node(net, RISE)]):
                start = arc.start // 2
                if arc.kind is Kind.THROUGH and not arc.state and start in self.clock_nets and start not in found:
                    found.add(start)
                    waiting.append(start)
        return found

    def _at_gate(self, chip: ChipId, expression: Expression, bit: int, output: NetId) -> Iterator[Steering]:
        part, pins = self.netlist.part_of(chip), self.netlist.chips[chip].pins
        places = [place for place in sorted(signs(expression, bit)) if place.name in part.ports]
        every = sorted({part.ports[place.name][place.bit] for place in places})
        clocked = [pin for pin in every if pins[pin] in self.clock_nets]
        steering = [pin for pin in every if not self.activity.is_still(pins[pin]) and pin not in clocked]
        for at in clocked:
            for pin in steering:
                low, high = (
                    self.activity.depends_while(chip, pin, expression, bit, held=(at, level)) for level in (0, 1)
                )
                if low and not high:
                    yield Steering(chip, pin, at, 0, output, low)
                elif high and not low:
                    yield Steering(chip, pin, at, 1, output, high)

    def blocked(self, closed: Iterable[Node]) -> frozenset[tuple[Node, Node, ChipId]]:
        """Ways that a gate stops after an edge of the clock; ``closed``: nodes that the clock reaches by that edge."""
        reached, found = set(closed), set()
        for item in self.found:
            net = self.netlist.chips[item.chip].pins[item.at]
            if item.output != NO_NET and node(net, 1 - item.level) in reached:
                start = self.netlist.chips[item.chip].pins[item.pin]
                found |= {(node(start, a), node(item.output, b), item.chip) for a in (0, 1) for b in (0, 1)}
        return frozenset(found)

    def demands(self) -> Iterator[Demand]:
        for item in self.found:
            net = self.netlist.chips[item.chip].pins[item.at]
            mask = item.mask | self.activity.known(self.netlist.chips[item.chip].pins[item.pin])
            yield Demand("gate", item.chip, item.pin, item.at, node(net, item.level), AT_ONCE, mask)

    def holds(self) -> Iterator[Hold]:
        for item in self.found:
            net = self.netlist.chips[item.chip].pins[item.at]
            yield Hold("gate", item.chip, item.pin, item.at, node(net, 1 - item.level), AT_ONCE, item.mask)
