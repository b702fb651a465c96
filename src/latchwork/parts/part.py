"""Parts: an *entry* of the catalogue in all its families, and the *part* in one family that a netlist carries."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property

from latchwork.parts.behaviour import Behaviour
from latchwork.parts.figures import Figure


class Direction(Enum):
    INPUT = "input"
    OUTPUT = "output"
    BOTH = "both"
    SUPPLY = "supply"
    GROUND = "ground"
    PASSIVE = "passive"  # ends of resistors, switches, lamps
    UNUSED = "unused"  # no internal connection


class Floating(Enum):
    """How an input that nothing drives reads."""

    HIGH = "high"  # bipolar inputs
    UNKNOWN = "unknown"  # CMOS inputs


@dataclass(frozen=True)
class Pin:
    """``name`` is the data sheet's, made a Python name: /1CLR is CLR1_n, 1A is A1, Cn+4 is Cn4; ``sheet`` keeps
    the sheet's own spelling."""

    name: str
    number: int
    direction: Direction
    sheet: str


@dataclass(frozen=True)
class Unit:
    """One of several equal pieces in a package, for packing single gates.

    ``ports`` maps the unit's general port names (A, B, Y) to ports of the package (A1, B1, Y1).
    """

    name: str
    ports: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Part:
    """A part in one family, complete: what a netlist carries."""

    name: str  # 74HCT377
    number: str  # 377
    family: str  # HCT
    title: str
    kind: str
    pins: tuple[Pin, ...]
    vectors: tuple[tuple[str, tuple[str, ...]], ...]  # name -> names of pins, lowest bit first
    behaviour: Behaviour
    floating: Floating
    figures: tuple[Figure, ...] = ()
    units: tuple[Unit, ...] = ()
    width_mil: int = 300  # distance of the pin rows in thousandths of an inch; 0: no dual in-line package
    fuses: str = ""  # "0" and "1" of a programmed device, the first fuse first

    @cached_property
    def pin_index(self) -> dict[str, int]:
        """Pin name -> index in ``pins``."""
        return {pin.name: index for index, pin in enumerate(self.pins)}

    @cached_property
    def ports(self) -> dict[str, tuple[int, ...]]:
        """Port name -> indices of its pins, lowest bit first: every pin by itself, and every vector."""
        single = {pin.name: (index,) for index, pin in enumerate(self.pins)}
        return single | {name: tuple(self.pin_index[pin] for pin in pins) for name, pins in self.vectors}


@dataclass(frozen=True)
class Entry:
    """A part function in all families in which it is made, as a chip file binds it.

    For a 74-series part ``number`` is the function number and the name of the part in a family is "74", the
    family, the number. A part outside of the series has one family, "", and its number is its whole name.
    ``behaviours`` holds the families that differ in function from ``behaviour``.
    """

    number: str
    title: str
    kind: str
    families: tuple[str, ...]
    pins: tuple[Pin, ...]
    behaviour: Behaviour
    vectors: tuple[tuple[str, tuple[str, ...]], ...] = ()
    figures: tuple[Figure, ...] = ()
    units: tuple[Unit, ...] = ()
    width_mil: int = 300
    function: str = ""  # for m.gate(): "nand", "and", "xor", "inverter", ...
    inputs: int = 0  # how many inputs such a gate has
    behaviours: tuple[tuple[str, Behaviour], ...] = ()

    def name_in(self, family: str) -> str:
        return f"74{family}{self.number}" if family or self.families != ("",) else self.number

    def in_family(self, family: str, floating: Floating) -> Part:
        """The part in one family; the figures that belong to others fall away."""
        return Part(
            name=self.name_in(family),
            number=self.number,
            family=family,
            title=self.title,
            kind=self.kind,
            pins=self.pins,
            vectors=self.vectors,
            behaviour=dict(self.behaviours).get(family, self.behaviour),
            floating=floating,
            figures=tuple(figure for figure in self.figures if figure.family == family),
            units=self.units,
            width_mil=self.width_mil,
        )

    def renamed(self, number: str, **changes: object) -> Entry:
        """A near relation under another number."""
        return replace(self, number=number, **changes)  # type: ignore[arg-type]
