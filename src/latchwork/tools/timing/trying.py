"""A program tried with delays: at which clock it still runs, and at which it no longer does."""

from __future__ import annotations

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.engines.delayed.trial import Trial, tried
from latchwork.netlist.queries import chip_name
from latchwork.reports import timing as reports
from latchwork.tools.timing.analysing import Timing, period_of
from latchwork.tools.timing.wording import megahertz

FINEST = 1.01
FARTHEST = 4.0
"""A program is tried up to so many times the fastest safe clock."""


def trial(timing: Timing, program: str, clocks: int, asked: float = 0.0) -> reports.Trial:
    """Run the program of the model with delays for ``clocks`` clocks, at ``asked`` MHz or the fastest safe clock; in
    the second case also find the clock at which it begins to fail, to one in a hundred."""
    return _Trying(timing, program, clocks).report(asked)


class _Trying:
    def __init__(self, timing: Timing, program: str, clocks: int) -> None:
        self.timing, self.program, self.clocks = timing, program, clocks
        self.graph = timing.plain(timing.asked.corner).graph
        self.contents = waking_bytes(timing.model, rom_bytes(timing.model))

    def report(self, asked: float) -> reports.Trial:
        corner = self.timing.asked.corner
        safe = period_of(self.timing.by_step(corner) or self.timing.plain(corner))
        period = round(1e6 / asked) if asked else safe
        found = self._tried(period)
        fails, first = (0, found) if asked or not found.well else self._breaks(period)
        return reports.Trial(
            program=self.program,
            clocks=found.clocks,
            megahertz=megahertz(period),
            well=found.well,
            fails=megahertz(fails),
            trouble=self._trouble(first),
            only=bool(asked),
        )

    def _tried(self, period: int) -> Trial:
        return tried(self.graph, self.contents, period, self.clocks, high=self.timing.asked.high)

    def _breaks(self, works: int) -> tuple[int, Trial]:
        """The longest period found at which it fails, 0 where it never does."""
        fails = round(works / FARTHEST)
        trouble = self._tried(fails)
        if trouble.well:
            return 0, trouble
        while works > fails * FINEST:
            middle = (works + fails) // 2
            found = self._tried(middle)
            if found.well:
                works = middle
            else:
                fails, trouble = middle, found
        return fails, trouble

    def _trouble(self, found: Trial) -> str:
        netlist = self.timing.netlist
        if found.late is not None:
            late = found.late
            pin = netlist.part_of(late.chip).pins[late.at].name
            return (
                f"clock {late.clock}: {chip_name(netlist, late.chip)} took {late.what} at {pin} before it had settled"
            )
        if found.unlike is not None:
            unlike = found.unlike
            return (
                f"clock {unlike.clock}: {chip_name(netlist, unlike.chip)} holds {unlike.found} in {unlike.name}, "
                f"not {unlike.expected}"
            )
        return ""
