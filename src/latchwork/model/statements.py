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
    ``opcode`` has its lowest bit first. ``fetch_address``: micro-address at which every instruction begins and the
    machine starts, where the wiring leaves it open; -1 where nothing is stated.
    """

    source: str
    store: tuple[ChipId, ...]
    opcode: tuple[NetId, ...]
    conditions: tuple[tuple[str, NetId, int], ...] = ()
    decode: tuple[ChipId, ...] = ()
    step: tuple[NetId, ...] = ()
    interrupt: NetId = -1
    position: Position = NOWHERE
    fetch_address: int = -1


@dataclass(frozen=True)
class Space:
    """An address space as programs see it: ``address`` and ``data`` nets (lowest bit first) and its memories.

    Where each chip answers, and in which order its pins are wired, is worked out from the netlist.
    ``show`` and ``write``: names of the control lines that read and write it ("" where there is none). ``when``:
    bank settings, nets with the levels at which the space is seen.
    """

    name: str
    address: tuple[NetId, ...]
    data: tuple[NetId, ...]
    chips: tuple[ChipId, ...]
    position: Position = NOWHERE
    show: str = ""
    write: str = ""
    when: tuple[tuple[NetId, int], ...] = ()


@dataclass(frozen=True)
class Section:
    """A place for assembled text: ``size`` words of a space from ``start``, where its labels point to.

    ``load_space``: the space from whose ``load_start`` on its words are stored, where a program copies them from there
    before they run; "" where they are stored in their place.
    """

    name: str
    space: str
    start: int
    size: int
    position: Position = NOWHERE
    load_space: str = ""
    load_start: int = 0


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
class SharedImage:
    """ROMs that are burned with one image, so that one file serves several sockets."""

    chips: tuple[ChipId, ...]
    position: Position = NOWHERE


@dataclass(frozen=True)
class Copied:
    """Memories that the machine's own hardware fills at its start, byte for byte in the order of the pins.

    The bytes of ``sources``, one chip after the other, from byte ``start`` on go into ``targets``, one chip after the
    other. ``simulated``: the hardware does it in simulation too; else the targets wake up with these bytes.
    """

    sources: tuple[ChipId, ...]
    targets: tuple[ChipId, ...]
    start: int = 0
    simulated: bool = False
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
class AttachedDevice:
    """Something that hangs on nets of the machine and is no logic chip. ``pins``: its nets by name, lowest bit first;
    which names there are, and which settings, its ``kind`` says (``devices.made``)."""

    kind: str
    name: str
    pins: tuple[tuple[str, tuple[NetId, ...]], ...]
    settings: tuple[tuple[str, int], ...] = ()
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
    shared: tuple[SharedImage, ...] = ()
    copied: tuple[Copied, ...] = ()
    devices: tuple[AttachedDevice, ...] = ()


NOTHING_STATED = Statements()
