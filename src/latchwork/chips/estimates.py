"""Figures that follow from read ones: a recalled time gives way to an estimate where a measured ratio reaches it.

A path of a part (delay of the 85 from A to EQUAL) has up to one time for each family, column and load: the longest
that a sheet gives for either edge. Where at least ``FEWEST`` parts have two of these read, their quotient is known as a
``Ratio``: the median over the parts, and the error that nine in ten of them stay within. Only ratios whose error is
at most ``WIDEST`` are used, the most exact one first; docs/catalogue-figures.md lists them all. What is from memory
and out of reach of them stays as it is.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import permutations
from statistics import median

from latchwork.chips.figures import MEMORY_CONDITIONS
from latchwork.parts import Confidence, Entry, Figure

FEWEST = 5
"""Parts on which a ratio has to be measured."""
WIDEST = 0.35
"""The largest error of a ratio in use: nine in ten of its parts stay within this fraction of the true figure."""

KINDS = {
    "delay": "delay",
    "enable": "on and off",
    "disable": "on and off",
    "setup": "setup",
    "pulse width": "pulse width",
}
"""Quantities that are estimated, and which of them are measured together. Hold times are not: most are zero."""
KNOWN = (Confidence.READ, Confidence.COMPUTED)
COLUMNS = ("minimum", "typical", "maximum")

Path = tuple[str, str, str, str]  # part, quantity, start, end
Times = Mapping[Path, "Mapping[Column, tuple[float, str]]"]  # path -> column -> time in ns, source


@dataclass(frozen=True, order=True)
class Column:
    """Where a time stands: family, column of the sheet, and whether at 15 pF where the family is rated at 50."""

    family: str
    name: str
    light: bool = False

    def __str__(self) -> str:
        return f"{self.family or 'TTL'} {self.name}{' at 5 V, 15 pF' if self.light else ''}"


@dataclass(frozen=True)
class Ratio:
    """``to`` is about ``factor`` times ``of``; measured on ``parts``, nine in ten within ``spread`` of the truth."""

    kind: str
    of: Column
    to: Column
    factor: float
    spread: float
    parts: int

    @property
    def in_use(self) -> bool:
        return self.parts >= FEWEST and self.spread <= WIDEST


def read_times(entries: Iterable[Entry]) -> Times:
    """The times that were read, in ns: the longest of the edges, with the source."""
    found: dict[Path, dict[Column, tuple[float, str]]] = defaultdict(dict)
    for entry in entries:
        for row in entry.figures:
            if _counts(row) and entry.families != ("",):
                times = found[_path(entry, row)]
                for column, value in _columns(row):
                    times[column] = max(times.get(column, (0.0, "")), (value, row.source))
    return found


def _counts(row: Figure) -> bool:
    """Times of a warm chip are left out: sheets that have them give those at 25 degC as well."""
    return row.confidence in KNOWN and row.quantity in KINDS and "85 degC" not in row.conditions


def _path(entry: Entry, row: Figure) -> Path:
    return entry.number, row.quantity, row.start, row.end


def _columns(row: Figure) -> Iterator[tuple[Column, float]]:
    light = "C" in row.family and "15 pF" in row.conditions and row.conditions != MEMORY_CONDITIONS
    for name in COLUMNS:
        value = getattr(row, name)
        if value:
            yield Column(row.family, name, light), value


def ratios(read: Times) -> tuple[Ratio, ...]:
    """All that can be measured, the most exact one first."""
    quotients: dict[tuple[str, Column, Column], dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    for (number, quantity, _, _), times in read.items():
        for of, to in permutations(times, 2):
            quotients[KINDS[quantity], of, to][number].append(times[to][0] / times[of][0])
    measured = (_ratio(*key, [median(values) for values in of_part.values()]) for key, of_part in quotients.items())
    return tuple(sorted(measured, key=lambda ratio: (ratio.spread, str(ratio.of), str(ratio.to))))


def _ratio(kind: str, of: Column, to: Column, values: list[float]) -> Ratio:
    factor = median(values)
    errors = sorted(abs(factor / value - 1) for value in values)
    return Ratio(kind, of, to, factor, errors[max(0, -(-9 * len(errors) // 10) - 1)], len(values))


def with_estimates(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """The entries with estimates in the place of the recalled times that a ratio in use reaches."""
    read = read_times(entries)
    rules = [ratio for ratio in ratios(read) if ratio.in_use]
    return tuple(replace(entry, figures=tuple(_estimated(entry, read, rules))) for entry in entries)


def _estimated(entry: Entry, read: Times, rules: list[Ratio]) -> Iterator[Figure]:
    for row in entry.figures:
        times = read.get(_path(entry, row), {})
        if row.confidence is not Confidence.MEMORY or row.quantity not in KINDS or not times:
            yield row
        elif not _is_said(row, entry):
            yield _estimate(row, times, rules) or row


def _is_said(row: Figure, entry: Entry) -> bool:
    """Whether a sheet says what is recalled: the same column of the same path, load and edge."""
    columns = {column for column, _ in _columns(row)}
    edges = {
        other.edge
        for other in entry.figures
        if other.confidence in KNOWN
        and _path(entry, other) == _path(entry, row)
        and columns & {column for column, _ in _columns(other)}
    }
    return "" in edges or (bool(edges) and edges >= ({row.edge} if row.edge else {"rise", "fall"}))


def _estimate(row: Figure, times: Mapping[Column, tuple[float, str]], rules: list[Ratio]) -> Figure | None:
    """The longest time comes before the usual one; what is recalled beside it is given up."""
    for wanted, recalled in sorted(_columns(row), key=lambda pair: pair[0].name):
        for rule in rules:
            if rule.kind == KINDS[row.quantity] and rule.to == wanted and rule.of in times:
                return _made(row, rule, times[rule.of], recalled)
    return None


def _made(row: Figure, rule: Ratio, known: tuple[float, str], recalled: float) -> Figure:
    value, source = known
    worked_out = dict.fromkeys(COLUMNS) | {rule.to.name: round(rule.factor * value, 1)}
    return replace(
        row,
        **worked_out,  # type: ignore[arg-type]
        confidence=Confidence.ESTIMATE,
        source=f"{rule.factor:.2f} x {rule.of} {value:g} ({source}), nine in ten within {rule.spread:.0%};"
        f" recalled: {recalled:g}",
    )
