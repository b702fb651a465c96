"""What would help: other parts for one chip on the way that sets the clock, each analysed anew.

Other families of the same part, where levels still fit on both sides; memories of the next quicker grades, with their
access and enable times in proportion.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from latchwork.analysis.arrival.clocked import Clocked, Limit
from latchwork.analysis.loading import Loading
from latchwork.chips.catalogue import UnknownPart, find
from latchwork.chips.families import FAMILIES
from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import drivers, readers
from latchwork.parts import Figure, Part
from latchwork.reports import timing as reports
from latchwork.tools.timing.analysing import Asked, Timing, period_of
from latchwork.tools.timing.wording import megahertz

GRADES = (45, 55, 70, 90, 120, 150, 200, 250)
"""Access times in ns at which memories are sold (Atmel AT27C256R: 45 to 150; Turbo IC 28C64A: 120 to 250)."""
NEXT_GRADES = 2
LEAST_GAIN = 0.005


def swaps(timing: Timing) -> list[reports.Swap]:
    """The swaps that gain something, the best first."""
    return sorted(_Swaps(timing).found(), key=lambda swap: (-swap.megahertz, swap.chip, swap.other))


class _Swaps:
    def __init__(self, timing: Timing) -> None:
        self.timing, self.asked, self.netlist = timing, timing.asked, timing.netlist
        self.clocked: Clocked = timing.by_step(self.asked.corner) or timing.plain(self.asked.corner)
        self.before = period_of(self.clocked)
        self.loading = Loading(timing.wiring)

    def found(self) -> Iterator[reports.Swap]:
        for chip in self._chips():
            for other, note in self._others(chip):
                period = self._period_with(chip, other)
                if period < self.before * (1 - LEAST_GAIN):
                    yield self._swap(chip, other, period, note)

    def _chips(self) -> list[ChipId]:
        """Those on the way, and the one that waits, each once."""
        limits: tuple[Limit, ...] = self.clocked.limits[:1]
        on_way = [arc.chip for limit in limits for _, arc in self.clocked.way(limit)]
        return list(dict.fromkeys([*on_way, *(limit.demand.chip for limit in limits)]))

    def _swap(self, chip: ChipId, other: Part, period: int, note: str) -> reports.Swap:
        return reports.Swap(
            chip=self.netlist.chips[chip].reference,
            label=self.netlist.chips[chip].label,
            part=self.netlist.part_of(chip).name,
            other=other.name,
            megahertz=megahertz(period),
            gain=round(self.before / period - 1, 3),
            note=note,
        )

    # ---- other parts

    def _others(self, chip: ChipId) -> Iterator[tuple[Part, str]]:
        part = self.netlist.part_of(chip)
        if part.kind == "memory":
            yield from _grades(part)
        elif part.name == f"74{part.family}{part.number}":
            for family in FAMILIES:
                other = _in_family(part, family)
                if other is not None and self._fits(chip, other):
                    yield other, ""

    def _fits(self, chip: ChipId, other: Part) -> bool:
        """Whether the levels of another part suit what drives the chip and what it drives."""
        for net in self.netlist.chips[chip].pins:
            if net in (NO_NET, self.netlist.high, self.netlist.low):
                continue
            driving = {driver.chip for driver in drivers(self.netlist, net)}
            heard = {at.chip for at in readers(self.netlist, net)} - {chip}
            pairs = [(other, self.netlist.part_of(each)) for each in heard] if chip in driving else []
            pairs += [(self.netlist.part_of(each), other) for each in driving - {chip}]
            if any(self._too_low(giver, taker) for giver, taker in pairs):
                return False
        return True

    def _too_low(self, giver: Part, taker: Part) -> bool:
        return self.loading.level(giver, "output high") < self.loading.level(taker, "input high")

    def _period_with(self, chip: ChipId, other: Part) -> int:
        """The shortest period with another part for one chip."""
        model, netlist = self.timing.model, self.netlist
        chips = list(netlist.chips)
        chips[chip] = replace(chips[chip], part=len(netlist.parts))
        changed = replace(netlist, parts=(*netlist.parts, other), chips=tuple(chips))
        return shortest(
            Model(model.folder, changed, model.statements, model.control, model.contents, model.sources), self.asked
        )


def shortest(model: Model, asked: Asked) -> int:
    """The shortest safe period of a model, in picoseconds."""
    timing = Timing(model, asked)
    return period_of(timing.by_step(asked.corner) or timing.plain(asked.corner))


def _in_family(part: Part, family: str) -> Part | None:
    if family == part.family:
        return None
    try:
        other = find(f"74{family}{part.number}")
    except UnknownPart:
        return None
    timed = any(row.quantity == "delay" and row.maximum for row in other.figures)
    return other if timed and other.behaviour == part.behaviour else None


def _grades(part: Part) -> Iterator[tuple[Part, str]]:
    times = [row.maximum for row in part.figures if row.quantity == "access" and row.maximum]
    for grade in [grade for grade in reversed(GRADES) if times and grade < max(times)][:NEXT_GRADES]:
        share = grade / max(times)
        figures = tuple(_scaled(row, share) for row in part.figures)
        yield replace(part, name=f"{part.name} of {grade} ns", figures=figures), "if that grade is to be had"


def _scaled(row: Figure, share: float) -> Figure:
    if row.quantity not in ("access", "enable", "disable"):
        return row
    columns = {name: getattr(row, name) for name in ("minimum", "typical", "maximum")}
    return replace(row, **{name: value * share for name, value in columns.items() if value is not None})
