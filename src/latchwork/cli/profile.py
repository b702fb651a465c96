"""The tables of ``latchwork run --profile``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from latchwork.cli.show import table
from latchwork.reports.profile import Coverage, Profile

MOST_MISSED = 8


def profile_lines(profile: Profile) -> Iterator[str]:
    whole = profile.clocks or 1
    yield ""
    rows = [(i.name, i.count, i.clocks, f"{100 * i.clocks / whole:.1f}") for i in profile.instructions]
    yield from table(("instruction", "times", "clocks", "%"), rows, right=(1, 2, 3))
    yield ""
    lines = [(f"{Path(x.file).name}:{x.line}", x.count, x.clocks, x.text) for x in profile.lines]
    yield from table(("line", "times", "clocks", "text"), lines, right=(1, 2))
    yield ""
    yield from _coverage("instructions", profile.instruction_coverage)
    yield from _coverage("microsteps", profile.step_coverage)
    yield from _coverage("lines of the program", profile.line_coverage)
    for name, cells in profile.memory.items():
        reads, writes = (sum(count for _, count in each) for each in (cells.reads, cells.writes))
        yield f"{name}: {reads} reads of {len(cells.reads)} cells, {writes} writes of {len(cells.writes)} cells"


def _coverage(what: str, coverage: Coverage) -> Iterator[str]:
    if coverage.all:
        rest = len(coverage.missed) - MOST_MISSED
        names = "; ".join(_short(name) for name in coverage.missed[:MOST_MISSED]) + (
            f"; {rest} more" if rest > 0 else ""
        )
        yield f"{what}: {coverage.reached} of {coverage.all} reached" + (f"; not: {names}" if names else "")


def _short(name: str) -> str:
    """Without the folder of a file."""
    head, colon, line = name.rpartition(":")
    return f"{Path(head).name}:{line}" if colon and line.isdigit() else name
