"""The frozen netlist.

It carries the parts it uses, behaviour and figures included, so that a saved one needs nobody's code. Chips,
nets, boards are known by their index. What a tool works out lives in the tool's own tables, keyed by index;
nothing is cached here but look-ups by name.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from latchwork.base.position import NOWHERE, Position
from latchwork.parts import Part

NetId = int
ChipId = int
NO_NET: NetId = -1


class PinRef(NamedTuple):
    """A pin of a chip: index of the chip, index of the pin in its part's ``pins``."""

    chip: ChipId
    pin: int


@dataclass(frozen=True)
class Net:
    """``name`` is unique: "clock", "data[3]". ``declared``: a person named it, and may speak of it."""

    name: str
    position: Position = NOWHERE
    declared: bool = True


@dataclass(frozen=True)
class Chip:
    """An instance of a part. ``pins`` runs beside the part's pins: a net each, or ``NO_NET`` where left open.

    ``left_open``: indices of pins that are open on purpose. ``spare_units``: units (gates) of a package that no
    gate of the machine has taken; their inputs are tied low.
    """

    reference: str  # U7, R3, D1, S2: unique
    part: int
    pins: tuple[NetId, ...]
    board: int
    label: str = ""  # what it is there for, a path such as "acc.hold"; power-up values are hashed from it
    parameters: tuple[tuple[str, int | str], ...] = ()
    position: Position = NOWHERE
    left_open: tuple[int, ...] = ()
    spare_units: tuple[str, ...] = ()


@dataclass(frozen=True)
class Board:
    name: str
    title: str = ""


@dataclass(frozen=True)
class Bus:
    """Nets under one name, lowest bit first. ``idle``: "", "high", "low", "keep": what holds it when undriven."""

    name: str
    nets: tuple[NetId, ...]
    idle: str = ""


@dataclass(frozen=True)
class Line:
    """A control line: a net that microprograms and hands set. ``name`` is the net's without its ``_n``.

    ``active`` is the level that does it, ``rest`` the level when nobody asks. ``phase``: (net, level) pairs under
    which the line takes effect (a decoder that is enabled in one half of the clock). ``hardware``: decoded from
    opcode bits, not set by a microprogram.
    """

    name: str
    net: NetId
    active: int
    rest: int
    phase: tuple[tuple[NetId, int], ...] = ()
    hardware: bool = False
    position: Position = NOWHERE


@dataclass(frozen=True)
class Assumption:
    """A net that is constant while the machine runs, as the builder states it."""

    net: NetId
    level: int
    position: Position = NOWHERE


@dataclass(frozen=True)
class Netlist:
    """See the module. ``high`` and ``low`` are the supply and ground nets, always present."""

    name: str
    family: str
    supply_millivolts: int
    parts: tuple[Part, ...]
    nets: tuple[Net, ...]
    chips: tuple[Chip, ...]
    boards: tuple[Board, ...]
    buses: tuple[Bus, ...]
    high: NetId
    low: NetId
    clock: NetId = NO_NET  # the main clock, NO_NET in a machine without one
    lines: tuple[Line, ...] = ()
    assumptions: tuple[Assumption, ...] = ()

    def part_of(self, chip: ChipId) -> Part:
        return self.parts[self.chips[chip].part]

    def nets_of(self, chip: ChipId, port: str) -> tuple[NetId, ...]:
        """The nets on a port of a chip, lowest bit first. KeyError where the part has no such port."""
        pins = self.chips[chip].pins
        return tuple(pins[index] for index in self.part_of(chip).ports[port])

    @cached_property
    def net_named(self) -> dict[str, NetId]:
        return {net.name: index for index, net in enumerate(self.nets)}

    @cached_property
    def bus_named(self) -> dict[str, Bus]:
        return {bus.name: bus for bus in self.buses}

    @cached_property
    def line_named(self) -> dict[str, Line]:
        return {line.name: line for line in self.lines}

    @cached_property
    def chip_named(self) -> dict[str, ChipId]:
        return {chip.reference: index for index, chip in enumerate(self.chips)}

    @cached_property
    def pins_on(self) -> tuple[tuple[PinRef, ...], ...]:
        """For each net the pins that are joined to it, in order of chips and pins."""
        found: list[list[PinRef]] = [[] for _ in self.nets]
        for chip_id, chip in enumerate(self.chips):
            for pin, net in enumerate(chip.pins):
                if net != NO_NET:
                    found[net].append(PinRef(chip_id, pin))
        return tuple(tuple(pins) for pins in found)
