"""How long an arc of a part takes, in one corner, from the figures of its sheet.

A *corner* is a column of the sheets: ``minimum``, ``typical`` or ``maximum``. Of several rows for one way the slowest
counts (in the minimum corner the fastest). Rows at 25 degC or without a temperature go before those for a wide range,
rows at the rated load before those at a light one. What no sheet gives is made up here by the stated rules and
marked: an ``estimate`` from another column, ``assumed`` where the part has no row at all.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache

from latchwork.analysis.arrival.senses import RISE, Kind, PartArc
from latchwork.chips.figures import MEMORY_CONDITIONS
from latchwork.parts import Figure, Part


class Corner(Enum):
    MINIMUM = "minimum"
    TYPICAL = "typical"
    MAXIMUM = "maximum"


@dataclass(frozen=True)
class Time:
    """``picoseconds`` at ``load`` pF. ``origin``: read, computed, memory, estimate, or assumed."""

    picoseconds: int
    load: int
    source: str
    origin: str


MOST_OF_TYPICAL = {"LS": 1.51, "HC": 1.73, "HCT": 1.75}
"""Maximum over typical, as docs/catalogue-figures.md measures it over the catalogue; ``OTHER_MOST`` for the rest."""
OTHER_MOST = 1.75
MOST_OF_LIGHT = {"HC": 2.45, "HCT": 2.50}
"""Maximum at 4.5 V and 50 pF over typical at 5 V and 15 pF, as the same page measures it; for quick reference data."""
LEAST_OF_TYPICAL = 0.2
"""A least delay no sheet gives, as a share of the typical one: below the share of every row that has both."""

ASSUMED_DELAY = {"": 40, "LS": 40, "ALS": 25, "S": 12, "F": 12, "HC": 45, "HCT": 50, "AC": 13, "ACT": 14}
"""ns in the maximum corner for a way through a part that has no row of its own; three in four of the family's rows in
the catalogue are faster. Families that are not named: ``OTHER_DELAY``."""
OTHER_DELAY = 50
ASSUMED_LIMIT = {"setup": 20.0, "hold": 3.0, "pulse width": 20.0, "write width": 100.0, "recovery": 20.0}
"""ns for a limit that the part's rows lack."""

_QUANTITIES = {
    Kind.THROUGH: ("delay", "access"),
    Kind.READ: ("access", "delay"),
    Kind.CLOCK: ("delay", "access"),
    Kind.OPEN: ("delay", "access"),
    Kind.SET: ("delay", "access"),
    Kind.ENABLE: ("enable", "access", "delay"),
    Kind.DISABLE: ("disable", "enable"),
}
_WIDE = re.compile(r"-\d+ to \d+ degC|\b(85|125) degC|\b150 pF|\b3\.3 V, 25 degC")
_LOAD = re.compile(r"(\d+) pF")
_BIPOLAR = ("", "LS", "ALS", "S")


@cache
def arc_time(arc: PartArc, edge: int, corner: Corner) -> Time:
    """The time from the start of the arc until the end has taken its new level, ``edge`` 1 where that is high."""
    part = arc.part
    rows = _rows(part, arc, "rise" if edge == RISE else "fall")
    if not rows:
        return _assumed(part, corner)
    found = _of_rows(part, rows, corner)
    usual = _of_rows(part, rows, Corner.TYPICAL) if corner is Corner.MAXIMUM else found
    return found if usual.picoseconds <= found.picoseconds else replace(usual, source=f"typical: {usual.source}")


def limit_time(part: Part, quantity: str, start: int, end: int = -1, edge: str = "") -> tuple[Time, Figure | None]:
    """A least time that the part asks for: setup, hold, recovery, pulse width, write width of pin ``start``, against
    an edge of pin ``end``. Without a row the time is assumed; the figure is None then."""
    rows = [row for row in limit_rows(part, quantity, start, end) if row.edge in ("", edge) or not edge]
    if not rows:
        return Time(round(ASSUMED_LIMIT[quantity] * 1000), 0, f"no figure: {quantity} assumed", "assumed"), None
    row = max(_narrow(rows), key=_least)
    return Time(round(_least(row) * 1000), 0, row.source, row.confidence.value), row


def data_time(part: Part, pin: int, at: int, edge: str) -> Time:
    """How long before ``edge`` ("rise", "fall") of ``at``, with which writing ends, data must stand at a pin of a
    memory; as long as the whole pulse where no row says it."""
    time, row = limit_time(part, "setup", pin, at, edge)
    if row is not None:
        return time
    width = limit_time(part, "write width", at)[0]
    return Time(width.picoseconds, 0, f"no figure: as long as the pulse ({width.source})", "assumed")


def address_time(part: Part, pin: int, at: int, edge: str) -> Time | None:
    """How long before ``edge`` of ``at`` an address must stand at a pin of a memory. None where no row says it."""
    time, row = limit_time(part, "setup", pin, at, edge)
    return None if row is None else time


AT_BEGINNING = Time(0, 0, "no figure: there when writing begins", "assumed")


def limit_rows(part: Part, quantity: str, start: int, end: int = -1) -> list[Figure]:
    """The rows of a least time for a pair of pins."""
    return [row for row in part.figures if row.quantity == quantity and _joins(part, row, start, end)]


def _least(row: Figure) -> float:
    found = [value for value in (row.minimum, row.maximum, row.typical) if value is not None]
    return found[0]


def _joins(part: Part, row: Figure, start: int, end: int) -> bool:
    starts, ends = part.ports.get(row.start, ()), part.ports.get(row.end, ())
    if start not in starts or (end >= 0 and row.end and end not in ends):
        return False
    paired = end >= 0 and len(starts) == len(ends) > 1 and not _crosses(row)
    return not paired or starts.index(start) == ends.index(end)


def _crosses(row: Figure) -> bool:
    """Whether a row for a vector of inputs tells of all its outputs, not only of those of the same number."""
    return row.quantity in ("delay", "access") and "same bit" not in row.conditions


def _rows(part: Part, arc: PartArc, edge: str) -> Sequence[Figure]:
    """The rows that apply, else the nearest ones: those to the same end, else any of the part's delays."""
    near: list[Callable[[Figure], bool]] = [
        lambda row: _joins(part, row, arc.start, arc.end),
        lambda row: arc.end in part.ports.get(row.end, ()),
        lambda row: True,
    ]
    for applies in near:
        for quantity in _QUANTITIES[arc.kind]:
            rows = [row for row in part.figures if row.quantity == quantity and row.unit == "ns" and applies(row)]
            found = [row for row in rows if row.edge in ("", edge)] or rows
            if found:
                return _narrow(found)
    return ()


def _narrow(rows: Sequence[Figure]) -> Sequence[Figure]:
    return [row for row in rows if not _WIDE.search(row.conditions)] or rows


def _of_rows(part: Part, rows: Sequence[Figure], corner: Corner) -> Time:
    if corner is Corner.MINIMUM:
        stated = [row for row in rows if row.minimum is not None]
        found = [(_nanoseconds(part, row, corner), row) for row in stated or rows]
        value, row = min(found, key=lambda pair: pair[0])
    else:
        direct = [row for row in rows if getattr(row, corner.value) is not None]
        value, row = max(
            ((_nanoseconds(part, row, corner), row) for row in _rated(direct or rows)), key=lambda pair: pair[0]
        )
    own = getattr(row, corner.value) is not None
    source = row.source if own else f"{corner.value} by ratio: {row.source}"
    load = 50 if not own and corner is Corner.MAXIMUM and _light(row) else _load(part, row)
    return Time(round(value * 1000), load, source, row.confidence.value if own else "estimate")


def _rated(rows: Iterable[Figure]) -> Sequence[Figure]:
    """Rows at the load of the table of limits, where a sheet also has quick figures at 15 pF."""
    found = list(rows)
    return [row for row in found if "15 pF" not in row.conditions or row.family in _BIPOLAR] or found


def _nanoseconds(part: Part, row: Figure, corner: Corner) -> float:
    own: float | None = getattr(row, corner.value)
    if own is not None:
        return own
    most = MOST_OF_LIGHT[row.family] if _light(row) else MOST_OF_TYPICAL.get(part.family, OTHER_MOST)
    typical = row.typical if row.typical is not None else row.maximum / most if row.maximum is not None else None
    if typical is None:
        typical = (row.minimum or 0.0) / LEAST_OF_TYPICAL
    return {Corner.MINIMUM: typical * LEAST_OF_TYPICAL, Corner.TYPICAL: typical, Corner.MAXIMUM: typical * most}[corner]


def _light(row: Figure) -> bool:
    """Whether a row is quick reference data, at 15 pF, of a family that is rated at 50."""
    return row.family in MOST_OF_LIGHT and "15 pF" in row.conditions


def _load(part: Part, row: Figure) -> int:
    """The load at which the row was measured, in pF."""
    if row.conditions != MEMORY_CONDITIONS:
        named = _LOAD.search(row.conditions)
        if named:
            return int(named[1])
    if part.kind == "memory":
        return 100
    if part.family in _BIPOLAR:
        return 45 if part.kind == "buffer" else 15
    return 50


def _assumed(part: Part, corner: Corner) -> Time:
    most = ASSUMED_DELAY.get(part.family, OTHER_DELAY) if part.name.startswith("74") else OTHER_DELAY
    typical = most / MOST_OF_TYPICAL.get(part.family, OTHER_MOST)
    value = {Corner.MINIMUM: typical * LEAST_OF_TYPICAL, Corner.TYPICAL: typical, Corner.MAXIMUM: most}[corner]
    return Time(round(value * 1000), 50, "no figure: assumed for the family", "assumed")
