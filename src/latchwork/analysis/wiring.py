"""Who holds a net: drivers, pulls, keepers, switches, and resistors that hand on the level of another net."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from latchwork.netlist import ChipId, NetId, Netlist, PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import Driver, drivers
from latchwork.parts import Direction, Drive, Floating, OutputKind, TieKind


@dataclass
class Holders:
    """What holds a net besides drivers. ``pulls``: (resistor, level of the rail at its other end); ``series`` and
    ``switches``: (chip, net on the other side)."""

    pulls: list[tuple[ChipId, int]] = field(default_factory=list)
    series: list[tuple[ChipId, NetId]] = field(default_factory=list)
    switches: list[tuple[ChipId, NetId]] = field(default_factory=list)
    keepers: list[ChipId] = field(default_factory=list)


class Wiring:
    """Answers about a netlist, each worked out once."""

    def __init__(self, netlist: Netlist) -> None:
        self.netlist = netlist

    @cached_property
    def levels(self) -> dict[NetId, int]:
        """Nets that never change: the rails, and what the builder assumes."""
        netlist = self.netlist
        return {netlist.low: 0, netlist.high: 1} | {item.net: item.level for item in netlist.assumptions}

    @cached_property
    def drivers(self) -> tuple[tuple[Driver, ...], ...]:
        """For each net every drive on it, enabled or not."""
        return tuple(drivers(self.netlist, net) for net in range(len(self.netlist.nets)))

    @cached_property
    def holders(self) -> tuple[Holders, ...]:
        found = tuple(Holders() for _ in self.netlist.nets)
        for chip in range(len(self.netlist.chips)):
            self._note_keepers(found, chip)
            for tie in self.netlist.part_of(chip).behaviour.ties:
                a, b = (self.netlist.nets_of(chip, port)[0] for port in (tie.a, tie.b))
                self._note_tie(found, chip, tie.kind, (a, b))
                self._note_tie(found, chip, tie.kind, (b, a))
        return found

    def _note_keepers(self, found: tuple[Holders, ...], chip: ChipId) -> None:
        for keeper in self.netlist.part_of(chip).behaviour.keepers:
            for net in self.netlist.nets_of(chip, keeper.port):
                if net != NO_NET:
                    found[net].keepers.append(chip)

    def _note_tie(self, found: tuple[Holders, ...], chip: ChipId, kind: TieKind, ends: tuple[NetId, NetId]) -> None:
        """What the far one of the ``ends`` does to the near one."""
        near, far = ends
        if NO_NET in ends or near == far:
            return
        if kind is TieKind.SWITCH:
            found[near].switches.append((chip, far))
        elif far in (self.netlist.high, self.netlist.low):
            found[near].pulls.append((chip, int(far == self.netlist.high)))
        else:
            found[near].series.append((chip, far))

    def drive(self, driver: Driver) -> Drive:
        return self.netlist.part_of(driver.chip).behaviour.drives[driver.drive]

    def kind(self, driver: Driver) -> OutputKind:
        return self.drive(driver).kind

    def listens(self, at: PinRef) -> bool:
        """Whether the pin is an input, or one that is both input and output."""
        pin = self.netlist.part_of(at.chip).pins[at.pin]
        return pin.direction in (Direction.INPUT, Direction.BOTH)

    def floats(self, chip: ChipId) -> bool:
        """Whether an open input of the chip floats, as inputs of CMOS do; bipolar ones read high."""
        return self.netlist.part_of(chip).floating is Floating.UNKNOWN
