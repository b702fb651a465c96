"""Events in the order of time: outputs that change, nets that follow, chips that answer.

It begins with a machine at rest, as another engine left it, and works the main clock itself. A net keeps its level
while nobody drives it, until a pull brings it to its own. Where two drive against each other the low one wins.
An output that is told to change again before it has changed follows the last order; orders that would come later
are dropped. States take what stood at their inputs a setup time before their clock.

Held against the analysis of ``analysis.arrival``: both use the same times of arcs, but nothing else of each other.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from latchwork.analysis.arrival.graph import Arc, Graph
from latchwork.engines.delayed.chips import OFF, Chip, Coming, Tardy
from latchwork.engines.protocol import Simulation, Value
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import readers
from latchwork.parts import OutputKind

Output = tuple[ChipId, int, int]  # chip, drive, bit
NO_OUTPUT: Output = (-1, -1, -1)


class Event(NamedTuple):
    """``kind``: "clock" (to ``level``), "output" (its first order is due), "pull" (``net`` was let go ``since`` then,
    and has come to ``level`` if nobody drove it since)."""

    time: int
    serial: int
    kind: str
    level: int = 0
    output: Output = NO_OUTPUT
    net: NetId = NO_NET
    since: int = 0


@dataclass(frozen=True)
class Late:
    """At ``time`` ps, in clock number ``clock`` since the start, a chip took something that had not settled.
    ``at``: the pin whose edge made it take it. ``what``: the state or memory."""

    time: int
    clock: int
    chip: ChipId
    at: int
    what: str


class Delayed:
    """``graph``: all arcs of the netlist in a corner, in one lane. ``rest``: a simulation at rest with the main clock
    low; ``period`` in ps, ``high``: share of it. ``on_change``: called with (time, net, level) for each change."""

    def __init__(
        self,
        graph: Graph,
        rest: Simulation,
        period: int,
        *,
        high: float = 0.5,
        on_change: Callable[[int, NetId, int], object] | None = None,
    ) -> None:
        self.graph, self.netlist, self.period, self.high = graph, graph.wiring.netlist, period, high
        self.time = self.clocks = 0
        self.late: list[Late] = []
        self.fights: dict[NetId, int] = {}
        self._on_change = on_change
        self._heap: list[Event] = []
        self._orders: dict[Output, list[tuple[int, int]]] = {}  # (time, level), earliest first
        self._serial = 0
        self._levels_of(rest)
        self._chips_of(rest)
        self._hang()
        self._released: dict[NetId, int] = {}  # nets that nobody drives, and the event since which
        self._pulled: set[NetId] = set()
        self._add(Event(0, self._next(), "clock", 1))

    # ---- the beginning

    def _levels_of(self, rest: Simulation) -> None:
        count = len(self.netlist.nets)
        self.now = [int(rest.value(net) is Value.HIGH) for net in range(count)] + [1]
        self._before, self._changed = list(self.now), [-(1 << 60)] * (count + 1)
        self._readers = [readers(self.netlist, net) for net in range(count)]

    def _chips_of(self, rest: Simulation) -> None:
        arcs: dict[ChipId, list[Arc]] = {}
        for into in self.graph.into:
            for arc in into:
                arcs.setdefault(arc.chip, []).append(arc)
        self.chips = [Chip(self.netlist, chip, arcs.get(chip, ())) for chip in range(len(self.netlist.chips))]
        for chip in self.chips:
            chip.states[:] = [rest.state(chip.chip, name) or 0 for name in chip.names]
            for number, memory in enumerate(chip.part.behaviour.memories):
                words = rest.memory(chip.chip, memory.name)
                chip.cells[number] = {address: max(word, 0) for address, word in enumerate(words)}
            chip.settle(self.now)

    def _hang(self) -> None:
        """What every output shows, by net, and what pulls a net that nobody drives."""
        self._outputs: dict[Output, int] = {}
        self._on_net: dict[NetId, list[Output]] = {}
        for chip in self.chips:
            for (drive, bit), level in chip.shown.items():
                output = (chip.chip, drive, bit)
                net = self._net_of(output)
                if net not in (NO_NET, self.netlist.clock):
                    self._outputs[output] = level
                    self._on_net.setdefault(net, []).append(output)
        holders = self.graph.wiring.holders
        self._pull = {net: holders[net].pulls[0][1] for net in self._on_net if holders[net].pulls}

    def _net_of(self, output: Output) -> NetId:
        chip, drive, bit = output
        part = self.netlist.part_of(chip)
        return self.netlist.chips[chip].pins[part.ports[part.behaviour.drives[drive].port][bit]]

    # ---- time

    def run(self, clocks: int) -> None:
        """Until just before so many more rising edges of the main clock have come."""
        goal = self.clocks + clocks
        while self._heap:
            if self._heap[0].kind == "clock" and self._heap[0].level and self.clocks == goal:
                return
            self._step()

    def _step(self) -> None:
        self.time = self._heap[0].time
        changed: dict[NetId, None] = {}
        beats = []
        while self._heap and self._heap[0].time == self.time:
            event = heapq.heappop(self._heap)
            if event.kind == "clock":
                beats.append(event.level)
            elif event.kind == "output":
                self._show(event.output, changed)
            elif event.since == self._released.get(event.net):
                self._pulled.add(event.net)
                changed[event.net] = None
        moved = [net for net in changed if self._resolve(net)]
        for level in beats:
            self._beat(level)
            moved.append(self.netlist.clock)
        self._tell(moved)

    def _beat(self, level: int) -> None:
        self.clocks += level
        high = round(self.period * self.high)
        self._add(Event(self.time + (high if level else self.period - high), self._next(), "clock", 1 - level))
        self._set(self.netlist.clock, level)

    def _show(self, output: Output, changed: dict[NetId, None]) -> None:
        orders = self._orders[output]
        if orders and orders[0][0] == self.time:
            self._outputs[output] = orders.pop(0)[1]
            changed[self._net_of(output)] = None

    def _add(self, event: Event) -> None:
        heapq.heappush(self._heap, event)

    def _next(self) -> int:
        self._serial += 1
        return self._serial

    # ---- nets

    def _resolve(self, net: NetId) -> bool:
        """Whether the net changed."""
        levels = {self._outputs[output] for output in self._on_net[net]} - {OFF}
        if len(levels) == 2:
            self.fights[net] = self.fights.get(net, 0) + 1
        if levels:
            self._released.pop(net, None)
            self._pulled.discard(net)
            return self._set(net, min(levels))
        return self._let_go(net)

    def _let_go(self, net: NetId) -> bool:
        if net not in self._pull:
            return False
        level = self._pull[net]
        open_collector = all(self._kind(output) is OutputKind.OPEN_COLLECTOR for output in self._on_net[net])
        if open_collector or net in self._pulled:
            return self._set(net, level)
        if net not in self._released:
            self._released[net] = serial = self._next()
            delay = max(self.graph.loads.pulled(net, level, self.graph.corner), 1)
            self._add(Event(self.time + delay, serial, "pull", level, net=net, since=serial))
        return False

    def _kind(self, output: Output) -> OutputKind:
        return self.netlist.part_of(output[0]).behaviour.drives[output[1]].kind

    def _set(self, net: NetId, level: int) -> bool:
        if self.now[net] == level:
            return False
        self._before[net], self._changed[net], self.now[net] = self.now[net], self.time, level
        if self._on_change is not None:
            self._on_change(self.time, net, level)
        return True

    def ago(self, setups: Mapping[NetId, int]) -> _Ago:
        """The nets as they were a setup time ago; see ``chips.History``."""
        return _Ago(self, setups)

    # ---- chips

    def _tell(self, moved: Iterable[NetId]) -> None:
        touched: dict[ChipId, dict[int, int]] = {}
        for net in moved:
            for at in self._readers[net]:
                touched.setdefault(at.chip, {})[at.pin] = self.now[net]
        for chip, pins in sorted(touched.items()):
            coming, tardy = self.chips[chip].move(pins, self)
            self.late += [self._named(item) for item in tardy]
            for order in coming:
                self._order((chip, order.drive, order.bit), order)

    def _named(self, item: Tardy) -> Late:
        return Late(self.time, self.clocks, item.chip, item.at, item.what)

    def _order(self, output: Output, order: Coming) -> None:
        if output not in self._outputs:
            return
        waiting = self._orders.setdefault(output, [])
        time = self.time + order.delay
        if self._outputs[output] == OFF and order.level != OFF and waiting:
            time = max(time, waiting[0][0])
        while waiting and waiting[-1][0] >= time:
            waiting.pop()
        if (waiting[-1][1] if waiting else self._outputs[output]) != order.level:
            waiting.append((time, order.level))
            self._add(Event(time, self._next(), "output", output=output))


class _Ago:
    """Levels a setup time ago."""

    def __init__(self, simulation: Delayed, setups: Mapping[NetId, int]) -> None:
        self._simulation, self._setups = simulation, setups

    def __getitem__(self, net: NetId) -> int:
        simulation = self._simulation
        setup = self._setups.get(net, 0)
        if setup and simulation._changed[net] > simulation.time - setup:
            return simulation._before[net]
        return simulation.now[net]
