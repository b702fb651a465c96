"""What each chip draws: at rest by its sheet or by what is usual in its family, and for what its outputs charge."""

from __future__ import annotations

from latchwork.analysis.arrival.graph import Graph
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.loading import Loading
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import drivers
from latchwork.parts import Part
from latchwork.tools.supply.activity import Seen

USUAL_REST = {  # mA at most: a package of gates, any other part
    "": (20.0, 60.0), "LS": (5.0, 30.0), "ALS": (4.0, 20.0), "S": (35.0, 110.0), "F": (15.0, 55.0),
}  # fmt: skip
"""What bipolar parts of a family draw at most where no sheet is at hand (from memory: makers' data books)."""
USUAL_CMOS, USUAL_MEMORY, USUAL_OTHER = 0.08, 50.0, 10.0
"""mA: CMOS parts at rest (80 uA over temperature), memories while they are read, oscillators and such (from memory)."""
USUAL_PD = 25.0
"""pF that an output of HC or HCT weighs inside, for each bit (Philips 74HC245: 30, Toshiba TC74HCT00: 19)."""
GATES = ("gate", "inverter", "buffer")
NO_SUPPLY = ("resistor", "lamp", "switch", "button")


def at_rest(part: Part) -> tuple[float, str]:
    """mA at most while nothing moves, and where that comes from."""
    rows = [row for row in part.figures if row.quantity == "supply current" and (row.maximum or row.typical)]
    if rows:
        worst = max(rows, key=lambda row: row.maximum or row.typical or 0.0)
        value = worst.maximum if worst.maximum is not None else (worst.typical or 0.0) * 1.6
        return value * {"mA": 1.0, "uA": 0.001}[worst.unit], worst.confidence.value
    if part.name.startswith("74"):
        if part.family in USUAL_REST:
            return USUAL_REST[part.family][part.kind not in GATES], "assumed"
        return USUAL_CMOS, "assumed"
    if part.kind == "memory":
        return USUAL_MEMORY, "assumed"
    draws = any(pin.direction.value == "supply" for pin in part.pins)
    return (USUAL_OTHER, "assumed") if draws else (0.0, "computed")


class Currents:
    def __init__(self, graph: Graph, seen: Seen) -> None:
        self.graph, self.seen = graph, seen
        self.wiring, self.netlist = graph.wiring, graph.wiring.netlist
        self.loading = Loading(graph.wiring)

    def switching(self, chip: ChipId) -> float:
        """mA that a chip takes to charge its nets and itself: C V f, a charge for every second change."""
        part, pins = self.netlist.part_of(chip), self.netlist.chips[chip].pins
        charge = 0.0
        for pin in sorted({pin for drive in part.behaviour.drives for pin in part.ports[drive.port]}):
            net = pins[pin]
            if net != NO_NET:
                share = 1 / max(1, len({driver.chip for driver in drivers(self.netlist, net)}))
                weight = self.graph.loads.picofarads(net, Corner.TYPICAL) + self._inside(part)
                charge += weight * 1e-12 * self.loading.supply * self.seen.rate(net) / 2 * share
        return charge * 1000

    @staticmethod
    def _inside(part: Part) -> float:
        rows = [row.typical for row in part.figures if row.quantity == "power capacitance" and row.typical]
        if rows:
            return rows[0]
        return USUAL_PD if part.floating.value == "unknown" else 0.0

    def lamps_and_pulls(self, net: NetId) -> tuple[float, float]:
        """mA that lamps and that pulls on a net take, by the share of the time at each level."""
        lamps = pulls = 0.0
        high = self.seen.share(net)
        for load in self.loading.loads(net, self.loading.supply):
            kind = self.netlist.part_of(load.at.chip).kind
            flows = (load.high if load.high != float("inf") else 0.0) * high
            flows += (load.low if load.low != float("inf") else 0.0) * (1 - high)
            if kind == "lamp":
                lamps += flows
            elif self.netlist.part_of(load.at.chip).behaviour.ties:
                pulls += flows
        return lamps, pulls
