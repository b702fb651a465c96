"""Traces as CSV (RFC 4180): a column a signal, a row a moment at which something changes, times in picoseconds.

The head of a column is the name, with the width behind a slash where it is more than one bit. Cells hold the levels,
highest bit first; the last row is the end.
"""

from __future__ import annotations

import csv
import io
import re

from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.traces.trace import Change, Signal, Trace

_TIME = "time_ps"
_LEVELS = re.compile(r"[01xz]+")


def to_csv(trace: Trace) -> bytes:
    """The trace as a table."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([_TIME, *(_head(signal) for signal in trace.signals)])
    moments = sorted({0, trace.end_ps} | {time_ps for time_ps, _ in trace.moments()})
    for time_ps in moments:
        writer.writerow([time_ps, *(signal.at(time_ps) for signal in trace.signals)])
    return text.getvalue().encode()


def _head(signal: Signal) -> str:
    return signal.name if signal.width == 1 else f"{signal.name}/{signal.width}"


def from_csv(content: bytes, file: str = "") -> Trace:
    """The trace in a table. Raises LatchworkError with line and what is wrong there."""
    rows = _rows(content, file)
    if not rows or not rows[0][1] or rows[0][1][0] != _TIME:
        raise _unusable(file, 1, f'the first line has to begin with "{_TIME}"')
    columns = [_column(head) for head in rows[0][1][1:]]
    changes: list[list[Change]] = [[] for _ in columns]
    time_ps = -1
    for line, cells in rows[1:]:
        time_ps = _time(cells, time_ps, line, file)
        _take(cells[1:], columns, changes, time_ps, (file, line))
    signals = (Signal(name, width, tuple(found)) for (name, width), found in zip(columns, changes, strict=True))
    return Trace(tuple(signals), max(time_ps, 0))


def _rows(content: bytes, file: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(content.decode("utf-8", "replace"), newline=""))
    try:
        return [(reader.line_num, row) for row in reader if row]
    except csv.Error as error:
        raise _unusable(file, reader.line_num, str(error)) from error


def _column(head: str) -> tuple[str, int]:
    name, slash, width = head.rpartition("/")
    return (name, int(width)) if slash and width.isascii() and width.isdigit() and 0 < len(width) < 5 else (head, 1)


def _time(cells: list[str], before: int, line: int, file: str) -> int:
    if not re.fullmatch(r"[0-9]{1,30}", cells[0]):
        raise _unusable(file, line, f'"{cells[0]}" is no time in whole picoseconds')
    if int(cells[0]) <= before:
        raise _unusable(file, line, f"time {cells[0]} does not lie after {before}, the time of the line above")
    return int(cells[0])


def _take(
    cells: list[str], columns: list[tuple[str, int]], changes: list[list[Change]], now: int, place: tuple[str, int]
) -> None:
    if len(cells) != len(columns):
        raise _unusable(*place, f"{len(cells)} signals stand here, the first line names {len(columns)}")
    for (name, width), levels, found in zip(columns, cells, changes, strict=True):
        if len(levels) != width or not _LEVELS.fullmatch(levels):
            raise _unusable(*place, f'"{levels}" is no value of {name}, which has {width} of the letters 0, 1, x, z')
        if not found or found[-1].levels != levels:
            found.append(Change(now, levels))


def _unusable(file: str, line: int, message: str) -> LatchworkError:
    return LatchworkError(Problem("R302", f"this is not a table of a trace: {message}", (Label(Position(file, line)),)))
