"""How often nets change and how long they are high, while a program runs with its delays: glitches count too."""

from __future__ import annotations

from dataclasses import dataclass, field

from latchwork.analysis.arrival.activity import Activity
from latchwork.analysis.arrival.graph import Graph
from latchwork.analysis.arrival.plain import plain_activity
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.analysis.wiring import Wiring
from latchwork.engines.delayed import Delayed
from latchwork.engines.delayed.trial import at_rest
from latchwork.model import Model
from latchwork.netlist import NetId
from latchwork.netlist.netlist import NO_NET


@dataclass
class Seen:
    """``seconds`` of running; changes and seconds at high of each net."""

    seconds: float
    changes: dict[NetId, int] = field(default_factory=dict)
    high: dict[NetId, float] = field(default_factory=dict)

    def rate(self, net: NetId) -> float:
        """Changes a second."""
        return self.changes.get(net, 0) / self.seconds if self.seconds else 0.0

    def share(self, net: NetId) -> float:
        """The share of the time at high; half where nothing ran."""
        return self.high.get(net, 0.0) / self.seconds if self.seconds else 0.5


def seen(model: Model, period: int, clocks: int) -> tuple[Graph, Seen]:
    """Run ``clocks`` clocks of ``period`` ps with typical delays, after reset; nothing runs without a clock."""
    wiring = Wiring(model.netlist)
    activity: Activity = plain_activity(wiring, {})
    graph = Graph(wiring, activity, Corner.TYPICAL)
    if model.netlist.clock == NO_NET or not clocks:
        return graph, Seen(0.0)
    machine = at_rest(model.netlist, waking_bytes(model, rom_bytes(model)))
    notes: dict[NetId, tuple[int, int]] = {}
    found = Seen(period * clocks * 1e-12)

    def note(time: int, net: NetId, level: int) -> None:
        since, was = notes.get(net, (0, 1 - level))
        if was:
            found.high[net] = found.high.get(net, 0.0) + (time - since) * 1e-12
        found.changes[net] = found.changes.get(net, 0) + 1
        notes[net] = time, level

    delayed = Delayed(graph, machine, period, on_change=note)
    delayed.run(clocks)
    for net, level in enumerate(delayed.now[:-1]):
        since, _ = notes.get(net, (0, level))
        if level:
            found.high[net] = found.high.get(net, 0.0) + (period * clocks - since) * 1e-12
    return graph, found
