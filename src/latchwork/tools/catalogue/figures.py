"""Figures as tables show them, and those from memory."""

from __future__ import annotations

from collections import Counter

from latchwork.chips import catalogue
from latchwork.chips.families import FAMILIES
from latchwork.parts import Confidence, Entry, Figure
from latchwork.reports.catalogue import FigureRow, MemoryReport


def rows_of(name: str, figures: tuple[Figure, ...], series: bool) -> tuple[FigureRow, ...]:
    """``series``: whether a family without letters is standard TTL."""
    return tuple(_row(name, figure, series) for figure in figures)


def _row(name: str, figure: Figure, series: bool) -> FigureRow:
    return FigureRow(
        part=name,
        family=figure.family or ("TTL" if series else ""),
        quantity=figure.quantity,
        path=_path(figure),
        minimum=figure.minimum,
        typical=figure.typical,
        maximum=figure.maximum,
        unit=figure.unit,
        conditions=figure.conditions,
        source=figure.source,
        confidence=figure.confidence.value,
    )


def _path(figure: Figure) -> str:
    ends = " to ".join(end for end in (figure.start, figure.end) if end)
    return f"{ends}, {figure.edge}" if figure.edge else ends


def figures_of(entry: Entry) -> tuple[FigureRow, ...]:
    return rows_of(entry.number, entry.figures, entry.families != ("",))


def memory_report() -> MemoryReport:
    """Over all parts and all families."""
    entries = catalogue.entries()
    families = tuple(row for name, family in FAMILIES.items() for row in rows_of(name or "TTL", family.figures, True))
    every = (*(row for entry in entries for row in figures_of(entry)), *families)
    recalled = tuple(row for row in every if row.confidence == Confidence.MEMORY.value)
    kinds = Counter(row.confidence for row in every)
    of_part, all_of_part = (Counter(row.part for row in rows) for rows in (recalled, every))
    parts = tuple((part, count, all_of_part[part]) for part, count in of_part.most_common())
    share = round(100 * len(recalled) / max(1, len(every)), 1)
    return MemoryReport(len(every), len(recalled), share, tuple(sorted(kinds.items())), parts, recalled)
