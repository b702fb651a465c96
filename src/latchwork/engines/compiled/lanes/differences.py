"""Where machines differ from the one without a fault: a chip has another part, or its pins lie on other nets.

That is all a fault is here, whatever kind of edit made it. Nets go by their number; pins that are joined to nothing
have a net of their own after those of the netlist. A closed switch between two nets makes one of them, which goes by
the first.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from latchwork.engines.compiled.lanes.template import Templates
from latchwork.engines.seeding import chip_keys
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET, Chip
from latchwork.parts import Part, TieKind


@dataclass(frozen=True)
class Placed:
    """A chip as it stands in a machine: its part, and a net for each pin."""

    part: Part
    nets: tuple[NetId, ...]


@dataclass(frozen=True)
class Difference:
    """The chips of one machine that stand otherwise than without the fault. ``group``: nets that closed switches have
    joined to another, with that."""

    chips: Mapping[ChipId, Placed] = field(default_factory=dict)
    group: Mapping[NetId, NetId] = field(default_factory=dict)


@dataclass
class Nets:
    """Names of all nets; open pins are added as they are met. ``keys``: paths of chips, for what is left to chance.
    ``templates``: of all parts."""

    netlist: Netlist
    names: list[str] = field(default_factory=list)
    keys: tuple[str, ...] = ()
    templates: Templates = field(default_factory=Templates)
    _open: dict[str, NetId] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.names = [net.name for net in self.netlist.nets]
        self.keys = chip_keys(self.netlist)
        self.base = [self._placed(self.netlist, chip) for chip in range(len(self.netlist.chips))]
        self._joins = any(is_closed(chip) for chip in self.netlist.chips)
        self.none = Difference()
        if self._joins:
            chips = dict(enumerate(self.base))
            self.none = Difference(group=self._groups(self.netlist, chips))
            self.base = [_moved(placed, self.none.group) for placed in self.base]

    def difference(self, faulty: Netlist) -> Difference:
        """ValueError where chips or nets are others than in the machine without a fault."""
        if len(faulty.chips) != len(self.base) or faulty.nets != self.netlist.nets:
            raise ValueError("a machine with a fault has the chips and nets of the one without")
        changed = {
            chip: self._placed(faulty, chip)
            for chip, (now, was) in enumerate(zip(faulty.chips, self.netlist.chips, strict=True))
            if now is not was and (now.pins != was.pins or now.part != was.part)
        }
        if not self._joins:
            return Difference(changed)
        chips = {chip: self._placed(faulty, chip) for chip in range(len(faulty.chips))}
        group = self._groups(faulty, chips)
        after = {chip: _moved(placed, group) for chip, placed in chips.items()}
        return Difference({chip: each for chip, each in after.items() if not _same(each, self.base[chip])}, group)

    def _placed(self, netlist: Netlist, chip: ChipId) -> Placed:
        part, pins = netlist.part_of(chip), netlist.chips[chip].pins
        return Placed(part, tuple(
            self._of_open_pin(f"{self.keys[chip]}.{pin.name}") if net == NO_NET else net
            for pin, net in zip(part.pins, pins, strict=True)
        ))  # fmt: skip

    def _of_open_pin(self, name: str) -> NetId:
        if name not in self._open:
            self._open[name] = len(self.names)
            self.names.append(name)
        return self._open[name]

    @staticmethod
    def _groups(netlist: Netlist, chips: Mapping[ChipId, Placed]) -> dict[NetId, NetId]:
        """For nets that closed switches join to another, that."""
        rank = {net: number for number, net in enumerate(_in_order(len(netlist.nets), chips))}
        group: dict[NetId, NetId] = {}

        def found(net: NetId) -> NetId:
            while net in group:
                net = group[net]
            return net

        rails = {netlist.high, netlist.low}
        for chip, placed in chips.items():
            for a, b in _switches(placed) if is_closed(netlist.chips[chip]) else ():
                ends = sorted({found(placed.nets[a]), found(placed.nets[b])}, key=rank.__getitem__)
                if len(ends) == 2 and not rails & {placed.nets[a], placed.nets[b]}:
                    group[ends[1]] = ends[0]
        return {net: found(net) for net in group}


def _moved(placed: Placed, group: Mapping[NetId, NetId]) -> Placed:
    return Placed(placed.part, tuple(group.get(net, net) for net in placed.nets))


def _same(one: Placed, other: Placed) -> bool:
    return one.part is other.part and one.nets == other.nets


def is_closed(chip: Chip) -> bool:
    """Whether its switches are closed when power comes."""
    return bool(dict(chip.parameters).get("closed", 0))


def _switches(placed: Placed) -> list[tuple[int, int]]:
    """Pins of the switches of a part."""
    ports, ties = placed.part.ports, placed.part.behaviour.ties
    return [(ports[tie.a][0], ports[tie.b][0]) for tie in ties if tie.kind is TieKind.SWITCH]


def _in_order(count: int, chips: Mapping[ChipId, Placed]) -> list[NetId]:
    """Nets in the order in which an engine for this machine alone would number them."""
    nets = dict.fromkeys(range(count))
    for placed in chips.values():
        nets.update(dict.fromkeys(placed.nets))
    return list(nets)
