"""What is still free in a machine."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SparePins:
    """A chip with something free: names of its units, outputs or data pins."""

    reference: str
    part: str
    board: str
    label: str
    names: tuple[str, ...]


@dataclass(frozen=True)
class SpareOpcodes:
    """``free``: how many of the ``all`` opcodes no instruction has; ``ranges``: first and last of each run of them."""

    all: int
    free: int
    ranges: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class SpareSteps:
    """``room``: how many steps the step counter can tell apart for the store. ``longest`` has the blocks with most
    steps, ``used`` of them; ``free``: step slots that no block uses, over all blocks."""

    room: int
    used: int
    longest: tuple[str, ...]
    free: int


@dataclass(frozen=True)
class SpareRows:
    """Rows of the control store: how many it has, and how many no step of the microprogram fills."""

    all: int
    free: int


@dataclass(frozen=True)
class SpareReport:
    """``gates``: units of packages that nothing uses. ``lines``: control lines that no step ever makes active.
    ``decoders``: their outputs that lead nowhere. ``word_bits``: data pins of the control store that set nothing.
    The last three are None in a machine without microprogram; ``steps`` also where a micro-address is loaded."""

    machine: str
    gates: tuple[SparePins, ...] = ()
    lines: tuple[str, ...] = ()
    decoders: tuple[SparePins, ...] = ()
    word_bits: tuple[SparePins, ...] = ()
    opcodes: SpareOpcodes | None = None
    steps: SpareSteps | None = None
    rows: SpareRows | None = None
