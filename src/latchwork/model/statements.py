"""What the wiring cannot tell and the builder states, besides lines and assumptions, which the netlist holds."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.base.position import NOWHERE, Position
from latchwork.netlist import ChipId, NetId


@dataclass(frozen=True)
class MicroprogramBinding:
    """Which chips hold the control store, and which nets carry opcode and conditions.

    ``decode``: ROMs that turn an opcode into a start address, in a machine that has them. ``conditions``: flags
    by the name the microprogram uses, with the net that carries each, and the level at which it is true.
    ``opcode`` has its lowest bit first. ``shared_image``: groups of store chips that get the same image.
    ``fetch_address``: micro-address at which the machine starts after reset, where the wiring leaves it open.
    """

    source: str
    store: tuple[ChipId, ...]
    opcode: tuple[NetId, ...]
    conditions: tuple[tuple[str, NetId, int], ...] = ()
    decode: tuple[ChipId, ...] = ()
    step: tuple[NetId, ...] = ()
    interrupt: NetId = -1
    position: Position = NOWHERE


@dataclass(frozen=True)
class Space:
    """An address space as programs see it: ``address`` and ``data`` nets (lowest bit first) and its memories.

    Where each chip answers, and in which order its pins are wired, is worked out from the netlist.
    ``show`` and ``write``: names of the control lines that read and write it ("" where there is none).
    """

    name: str
    address: tuple[NetId, ...]
    data: tuple[NetId, ...]
    chips: tuple[ChipId, ...]
    position: Position = NOWHERE
    show: str = ""
    write: str = ""


@dataclass(frozen=True)
class Section:
    """A place for assembled text: ``size`` words of a space from ``start``."""

    name: str
    space: str
    start: int
    size: int
    position: Position = NOWHERE


@dataclass(frozen=True)
class Table:
    """A ROM whose contents a function of the builder gave: names of its inputs and outputs, for the report."""

    chip: ChipId
    inputs: tuple[tuple[str, tuple[NetId, ...]], ...]
    outputs: tuple[tuple[str, tuple[NetId, ...]], ...]
    position: Position = NOWHERE


@dataclass(frozen=True)
class LoadedImage:
    """A ROM whose contents come from a file of the builder."""

    chip: ChipId
    source: str
    position: Position = NOWHERE


@dataclass(frozen=True)
class Port:
    """Nets that a person looks at or sets: ``direction`` "out" or "in". ``take``: net whose rising edge means
    that a new value stands on an output port, -1 where each change counts."""

    name: str
    nets: tuple[NetId, ...]
    direction: str
    take: NetId = -1
    position: Position = NOWHERE


@dataclass(frozen=True)
class Halt:
    """The machine has halted when ``net`` stands at ``level``."""

    net: NetId
    level: int
    position: Position = NOWHERE


@dataclass(frozen=True)
class Statements:
    microprogram: MicroprogramBinding | None = None
    spaces: tuple[Space, ...] = ()
    sections: tuple[Section, ...] = ()
    tables: tuple[Table, ...] = ()
    images: tuple[LoadedImage, ...] = ()
    ports: tuple[Port, ...] = ()
    halts: tuple[Halt, ...] = ()
    registers: tuple[tuple[str, tuple[NetId, ...]], ...] = ()  # what machine["acc"] and the final report show


NOTHING_STATED = Statements()
