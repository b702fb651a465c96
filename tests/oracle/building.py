"""A small way to make netlists for tests: ``b = Builder(); b.add("74HCT00", A1="x", B1="y", Y1="z"); b.netlist()``."""

from __future__ import annotations

from collections.abc import Sequence

from latchwork.chips.catalogue import find
from latchwork.netlist import Board, Chip, Net, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Part

HIGH, LOW = "high", "low"
Nets = str | Sequence[str]


class Builder:
    """Nets are made by naming them; "high" and "low" are the rails. ``clock`` names the main clock."""

    def __init__(self, clock: str = "") -> None:
        self.names: dict[str, NetId] = {HIGH: 0, LOW: 1}
        self.parts: dict[str, tuple[int, Part]] = {}
        self.chips: list[Chip] = []
        self.clock = clock

    def net(self, name: str) -> NetId:
        return self.names.setdefault(name, len(self.names))

    def bus(self, name: str, width: int) -> list[str]:
        """Names of the nets of a bus, lowest bit first."""
        return [f"{name}[{i}]" for i in range(width)]

    def add(self, part: str | Part, label: str = "", parameters: dict[str, int] | None = None, **ports: Nets) -> int:
        """Place a part; a port takes a net, or as many as it has pins. Returns the chip."""
        found = find(part) if isinstance(part, str) else part
        index, _ = self.parts.setdefault(found.name, (len(self.parts), found))
        pins = [NO_NET] * len(found.pins)
        for port, nets in ports.items():
            names = [nets] if isinstance(nets, str) else list(nets)
            for pin, name in zip(found.ports[port], names, strict=True):
                pins[pin] = self.net(name)
        chip = len(self.chips)
        stated = tuple(sorted((parameters or {}).items()))
        self.chips.append(Chip(f"U{chip + 1}", index, tuple(pins), 0, label, stated))
        return chip

    def pull(self, net: str, rail: str) -> int:
        return self.add("resistor", A=net, B=rail)

    def netlist(self, name: str = "test") -> Netlist:
        clock = self.net(self.clock) if self.clock else NO_NET
        return Netlist(
            name=name,
            family="HCT",
            supply_millivolts=5000,
            parts=tuple(part for _, part in self.parts.values()),
            nets=tuple(Net(each) for each in self.names),
            chips=tuple(self.chips),
            boards=(Board("main"),),
            buses=(),
            high=0,
            low=1,
            clock=clock,
        )
