"""The type of traces: named signals, each with the moments at which it changed."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple


class Change(NamedTuple):
    """From ``time_ps`` on the signal stands at ``levels``: a letter a bit, highest bit first, of 0, 1, x, z."""

    time_ps: int
    levels: str


@dataclass(frozen=True)
class Signal:
    """``width`` bits under one name. Changes are in the order of time, no two at one moment, no two alike in a row."""

    name: str
    width: int
    changes: tuple[Change, ...]

    def at(self, time_ps: int) -> str:
        """The levels at a moment; all unknown before the first change."""
        after = bisect_right(self.changes, time_ps, key=lambda change: change.time_ps)
        return self.changes[after - 1].levels if after else "x" * self.width

    def number_at(self, time_ps: int) -> int | None:
        """The levels as a number, None where a bit is neither 0 nor 1."""
        levels = self.at(time_ps)
        return int(levels, 2) if set(levels) <= {"0", "1"} else None


@dataclass(frozen=True)
class Trace:
    """Signals from time 0 to ``end_ps``."""

    signals: tuple[Signal, ...]
    end_ps: int

    def signal(self, name: str) -> Signal:
        """The signal of that name. Raises KeyError."""
        for signal in self.signals:
            if signal.name == name:
                return signal
        raise KeyError(name)

    def moments(self) -> Iterator[tuple[int, list[tuple[int, str]]]]:
        """Each time at which something changes, with (index of the signal, new levels), in the order of time."""
        found: dict[int, list[tuple[int, str]]] = {}
        for index, signal in enumerate(self.signals):
            for time_ps, levels in signal.changes:
                found.setdefault(time_ps, []).append((index, levels))
        yield from sorted(found.items())
