"""What an output has to carry: the currents of the inputs, pulls and lamps on its net, against what its sheet allows.

Currents are in milliamperes, all positive. *High*: what the output has to give while the net is high; *low*: what it
has to take while the net is low. An input of a part whose sheet names its own currents counts with these, else with
those of its family; parts outside of the series (memories and such) with 0.01 mA, and as outputs with 2.1 mA low and
0.4 mA high (Microchip 28C64A DS11109H p.2 and Atmel AT27C256R: 0.45 V at 2.1 mA, 2.4 V at -0.4 mA, inputs 10 uA).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.wiring import Wiring
from latchwork.chips.families import family_of
from latchwork.netlist import ChipId, NetId, PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver
from latchwork.parts import OutputKind, Part

OUTPUT_LOW, OUTPUT_HIGH, INPUT = 2.1, 0.4, 0.01
LAMP_VOLTS = {"red": 1.8, "amber": 2.0, "yellow": 2.0, "green": 2.1, "blue": 3.0, "white": 3.0}
"""Forward voltage at a few mA, by colour (common practice)."""
USUAL_LAMP = 2.0
TTL_HIGH, TTL_LOW = 2.4, 0.4
IN_MILLIAMPERES = {"mA": 1.0, "uA": 0.001}


@dataclass(frozen=True)
class Load:
    """What a pin draws from its net: ``high`` and ``low`` in mA."""

    at: PinRef
    high: float
    low: float


class Loading:
    def __init__(self, wiring: Wiring) -> None:
        self.wiring, self.netlist = wiring, wiring.netlist

    @cached_property
    def supply(self) -> float:
        """In volts."""
        return self.netlist.supply_millivolts / 1000

    # ---- what an output can

    def known(self, chip: ChipId) -> bool:
        """Whether outputs of a chip have levels and currents here: those of the series and of memories."""
        part = self.netlist.part_of(chip)
        return family_of(part) is not None or part.kind == "memory"

    def allowed(self, driver: Driver) -> tuple[float, float]:
        """The currents (high, low) that an output may give and take. An open collector gives nothing."""
        part = self.netlist.part_of(driver.chip)
        low = self._current(part, "output current low", driver.pin, OUTPUT_LOW)
        if self.wiring.kind(driver) is OutputKind.OPEN_COLLECTOR:
            return 0.0, low
        return self._current(part, "output current high", driver.pin, OUTPUT_HIGH), low

    def level(self, part: Part, quantity: str) -> float:
        """A level of a family, in volts: output high (least), input high (least) and so on."""
        usual = {"output high": TTL_HIGH, "input high": 2.0, "output low": TTL_LOW, "input low": 0.8}[quantity]
        family = family_of(part)
        row = family.figure.get(quantity) if family else None
        found = None if row is None else row.minimum if quantity.endswith("high") else row.maximum
        return usual if found is None else found

    # ---- what hangs on a net

    def loads(self, net: NetId, volts: float) -> Iterator[Load]:
        """Inputs, pulls and lamps, in the order of chips. ``volts``: of the net while it is high."""
        for at in self.netlist.pins_on[net]:
            part = self.netlist.part_of(at.chip)
            if part.kind == "lamp":
                yield self._of_lamp(at, volts)
            elif part.behaviour.ties:
                yield from self._of_resistor(net, at, volts)
            elif self.wiring.listens(at):
                high = self._current(part, "input current high", at.pin, INPUT)
                yield Load(at, high, self._current(part, "input current low", at.pin, INPUT))

    def _of_lamp(self, at: PinRef, volts: float) -> Load:
        """A lamp on the net: with the resistor at its other end, or with nothing that limits its current."""
        far = self._other_end(at)
        rails = {self.netlist.low: 0, self.netlist.high: 1}
        if far in rails:
            return self._lamp_load(at, rails[far], float("inf"))
        for other in self.netlist.pins_on[far] if far != NO_NET else ():
            ohms, end = self._ohms(other.chip), self._other_end(other)
            if ohms and end in rails:
                drop = self.supply - TTL_LOW if rails[end] else volts
                return self._lamp_load(at, rails[end], max(0.0, drop - self._lamp_volts(at)) / ohms * 1000)
        return Load(at, 0.0, 0.0)

    @staticmethod
    def _lamp_load(at: PinRef, rail: int, current: float) -> Load:
        return Load(at, 0.0, current) if rail else Load(at, current, 0.0)

    def _lamp_volts(self, at: PinRef) -> float:
        colour = dict(self.netlist.chips[at.chip].parameters).get("colour", "")
        return LAMP_VOLTS.get(str(colour), USUAL_LAMP)

    def _ohms(self, chip: ChipId) -> int:
        """The value of a resistor with two ends; 0 for other parts."""
        if self.netlist.part_of(chip).kind != "resistor":
            return 0
        return next((int(value) for name, value in self.netlist.chips[chip].parameters if name == "ohms"), 0)

    def _of_resistor(self, net: NetId, at: PinRef, volts: float) -> Iterator[Load]:
        ohms = next((int(v) for name, v in self.netlist.chips[at.chip].parameters if name == "ohms"), 0)
        for tie in self.netlist.part_of(at.chip).behaviour.ties:
            ends = [self.netlist.nets_of(at.chip, port)[0] for port in (tie.a, tie.b)]
            if net in ends and NO_NET not in ends and ohms > 0 and at.pin in self._pins_of(at.chip, (tie.a, tie.b)):
                far = ends[1] if ends[0] == net else ends[0]
                yield self._through(at, far, ohms, volts)

    def _pins_of(self, chip: ChipId, ports: tuple[str, str]) -> set[int]:
        part = self.netlist.part_of(chip)
        return {part.ports[port][0] for port in ports}

    def _through(self, at: PinRef, far: NetId, ohms: int, volts: float) -> Load:
        """A resistor to a rail, to a lamp on a rail, or to somewhere else, which is taken to draw nothing."""
        drop = 0.0
        if far not in (self.netlist.high, self.netlist.low):
            lamps = [other for other in self.netlist.pins_on[far] if self.netlist.part_of(other.chip).kind == "lamp"]
            if len(lamps) != 1 or self._other_end(lamps[0]) not in (self.netlist.high, self.netlist.low):
                return Load(at, 0.0, 0.0)
            drop, far = self._lamp_volts(lamps[0]), self._other_end(lamps[0])
        if far == self.netlist.low:
            return Load(at, max(0.0, volts - drop) / ohms * 1000, 0.0)
        return Load(at, 0.0, max(0.0, self.supply - TTL_LOW - drop) / ohms * 1000)

    def _other_end(self, at: PinRef) -> NetId:
        pins = self.netlist.chips[at.chip].pins
        return next((net for pin, net in enumerate(pins) if pin != at.pin), NO_NET)

    def _current(self, part: Part, quantity: str, pin: int, usual: float) -> float:
        own = [row for row in part.figures if row.quantity == quantity and pin in self._at(part, row.start or row.end)]
        family = family_of(part)
        row = own[0] if own else family.figure.get(quantity) if family else None
        if row is None or row.maximum is None:
            return usual
        return abs(row.maximum) * IN_MILLIAMPERES[row.unit]

    @staticmethod
    def _at(part: Part, port: str) -> tuple[int, ...]:
        return part.ports.get(port, ())
