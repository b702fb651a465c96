"""What hangs on a net, in pF, and what that adds to the times of a sheet.

Inputs of HC and HCT parts: 3.5 pF typical, 10 pF at most (Philips 74HC245/74HCT245 Rev.03, 2005: CI, and CI/O 10 pF);
the same is taken for all inputs. A contact of a solderless board has 2 to 25 pF against its neighbours (published in
laboratory handouts); 5 pF are taken a pin, and 3 pF for the jumper wire that leads to it (about 0.5 pF a centimetre,
from memory).

Slopes, in picoseconds a pF: LS 143 (Fairchild DM74LS00: 10 ns at 15 pF and 15 ns at 50 pF), HC and HCT 60 at most
and 40 typical (ST M74HC541: 17 and 10 ns at 50 pF, 23 and 14 ns at 150 pF), AHC and faster families 57 and 43
(ON MC74VHC04 at 5 V: 5.5 and 3.8 ns at 15 pF, 7.5 and 5.3 ns at 50 pF). Families without a published pair take those
of the nearest one. A net lighter than the load of the sheet gains nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.analysis.arrival.senses import RISE
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.wiring import Wiring
from latchwork.netlist import NetId
from latchwork.netlist.queries import Driver
from latchwork.parts import OutputKind, Part

SLOW_BIPOLAR = ("", "LS", "ALS", "S")
SLOW_CMOS = ("HC", "HCT", "C", "4000")
_SLOPES = {  # picoseconds a pF: typical, maximum
    "bipolar": (100, 143),
    "cmos": (40, 60),
    "fast": (43, 57),
}
_RISE_OF_RESISTOR = 0.7  # of R C, until half the supply: ln 2


@dataclass(frozen=True)
class Boards:
    """Capacitance in pF of an input pin (typical, maximum), a contact, and the wire that leads to a pin."""

    pin: tuple[float, float] = (3.5, 10.0)
    contact: float = 5.0
    wire: float = 3.0


SOLDERLESS = Boards()


class Loads:
    def __init__(self, wiring: Wiring, boards: Boards = SOLDERLESS) -> None:
        self.wiring, self.boards = wiring, boards
        self._pins = [len(pins) for pins in wiring.netlist.pins_on]
        self._found: dict[tuple[NetId, Corner], float] = {}

    def picofarads(self, net: NetId, corner: Corner) -> float:
        """What an output has to charge: the other pins on the net, and wire and contact of each pin."""
        key = (net, corner)
        if key not in self._found:
            pin = self.boards.pin[corner is Corner.MAXIMUM]
            every = self._pins[net]
            self._found[key] = max(every - 1, 0) * pin + every * (self.boards.contact + self.boards.wire)
        return self._found[key]

    def extra(self, part: Part, net: NetId, rated: int, corner: Corner) -> int:
        """Picoseconds that the net adds to a time measured at ``rated`` pF. Nothing in the minimum corner."""
        if corner is Corner.MINIMUM:
            return 0
        slope = _SLOPES[_sort(part)][corner is Corner.MAXIMUM]
        return max(0, round(slope * (self.picofarads(net, corner) - rated)))

    def pulled(self, net: NetId, edge: int, corner: Corner) -> int:
        """Picoseconds that a resistor to a rail needs to bring an open net to ``edge``; 0 where there is none."""
        if corner is Corner.MINIMUM:
            return 0
        chips = self.wiring.netlist.chips
        pulls = [chip for chip, level in self.wiring.holders[net].pulls if level == edge]
        ohms = [int(value) for chip in pulls for name, value in chips[chip].parameters if name == "ohms"]
        conductance = sum(1 / value for value in ohms if value > 0)
        return round(_RISE_OF_RESISTOR * self.picofarads(net, corner) / conductance) if conductance else 0

    def of_driver(self, driver: Driver, net: NetId, edge: int, rated: int, corner: Corner) -> int:
        """What the net adds to an arc that ends at an output."""
        if self.wiring.kind(driver) is OutputKind.OPEN_COLLECTOR and edge == RISE:
            return self.pulled(net, RISE, corner)
        return self.extra(self.wiring.netlist.part_of(driver.chip), net, rated, corner)


def _sort(part: Part) -> str:
    if part.name.startswith("74") and part.family in SLOW_BIPOLAR:
        return "bipolar"
    return "cmos" if part.family in SLOW_CMOS or not part.name.startswith("74") else "fast"
