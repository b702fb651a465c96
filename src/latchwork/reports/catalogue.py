"""What the catalogue tells: its parts, one part in full, the figures from memory."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ListedPart:
    """A part function in all its families. ``complete``: documentation, sound behaviour, and times with sources for
    every output; ``figures``: how many it has, ``from_memory`` of them without a text at hand."""

    number: str
    title: str
    kind: str
    families: tuple[str, ...]
    pins: int
    complete: bool
    figures: int
    from_memory: int


@dataclass(frozen=True)
class CatalogueReport:
    """``complete``: how many of all parts are complete, whatever was searched for; ``parts``: what was found."""

    words: str
    all: int
    complete: int
    found: int
    parts: tuple[ListedPart, ...]


@dataclass(frozen=True)
class FigureRow:
    """A figure as a table shows it. ``family`` is "TTL" for standard TTL, "" outside of the series."""

    part: str
    family: str
    quantity: str
    path: str
    minimum: float | None
    typical: float | None
    maximum: float | None
    unit: str
    conditions: str
    source: str
    confidence: str


@dataclass(frozen=True)
class MemoryReport:
    """Figures from memory, to be replaced when a source is found. ``share``: in percent of all figures.
    ``confidences``: how many figures there are of each kind; ``parts``: (part function, from memory, of all)."""

    all: int
    from_memory: int
    share: float
    confidences: tuple[tuple[str, int], ...]
    parts: tuple[tuple[str, int, int], ...]
    figures: tuple[FigureRow, ...]


@dataclass(frozen=True)
class PinRow:
    number: int
    name: str
    sheet: str
    direction: str


@dataclass(frozen=True)
class FunctionTable:
    """Worked out from the behaviour. L, H and x stand for levels, data by their names; ``likewise``: other results
    that behave in the same way; ``left_out``: rows beyond those shown."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    likewise: tuple[str, ...] = ()
    left_out: int = 0


@dataclass(frozen=True)
class Replacement:
    """Another part near this one. ``kind``: "same pins and function", "same function, other pins", "same pins, other
    function"; ``changes``: what is different; ``proof``: how function was compared."""

    number: str
    title: str
    families: tuple[str, ...]
    kind: str
    changes: tuple[str, ...]
    proof: str


@dataclass(frozen=True)
class PartReport:
    """``about``: heading of the documentation -> text. ``here``: the family asked for."""

    name: str
    number: str
    title: str
    kind: str
    here: str
    families: tuple[str, ...]
    width_mil: int
    about: dict[str, str]
    pins: tuple[PinRow, ...]
    tables: tuple[FunctionTable, ...]
    figures: tuple[FigureRow, ...]
    replacements: tuple[Replacement, ...]
