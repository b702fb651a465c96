"""``timing``: the whole analysis of a model in one report."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from latchwork.analysis.arrival.clocked import Clocked, Limit
from latchwork.analysis.arrival.graph import Arc
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.arrival.turnaround import Meeting, meetings
from latchwork.analysis.levels import set_lanes
from latchwork.model import Model, Row
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import chip_name
from latchwork.reports import timing as reports
from latchwork.tools.timing.analysing import USUAL, Asked, Timing, period_of
from latchwork.tools.timing.swaps import swaps
from latchwork.tools.timing.trying import trial
from latchwork.tools.timing.wording import hold_key, limit_report, megahertz, nanoseconds, rate_report, width_report

MOST_HOLDS = 32
MOST_WIDTHS = 4
CLOCKS = 2000


def timing(
    model: Model,
    asked: Asked = USUAL,
    *,
    program: str = "",
    clocks: int = CLOCKS,
    at: float = 0.0,
    improve: bool = False,
) -> reports.TimingReport:
    """How fast the machine may be clocked. ``program``: the name of the one in the model, to be tried with delays for
    so many ``clocks``, ``at`` MHz or (0) at the fastest safe clock and beyond. ``improve``: look for parts that would
    help. Raises LatchworkError (R601) where it has no main clock."""
    timing = Timing(model, asked)
    report = _Report(timing).whole()
    if program:
        report = replace(report, trial=trial(timing, program, clocks, at))
    return replace(report, swaps=tuple(swaps(timing))) if improve else report


def row_name(row: Row) -> str:
    """ "`store index, n [index]` step 2", with the conditions under which the row comes."""
    conditions = "".join(f", {name} {value}" for name, value in row.conditions)
    return f"`{row.block}` step {row.step}{conditions}"


class _Report:
    def __init__(self, timing: Timing) -> None:
        self.timing, self.asked = timing, timing.asked
        self.plain = timing.plain(self.asked.corner)
        self.by_step = timing.by_step(self.asked.corner)

    def whole(self) -> reports.TimingReport:
        plain = self._fastest(self.plain)
        by_step = self._fastest(self.by_step, self._limiting_row()) if self.by_step else None
        stated = self.timing.stated_period()
        asked = stated or period_of(self.by_step or self.plain)
        limiting = self._limiting_arcs(self.by_step or self.plain)
        return reports.TimingReport(
            machine=self.timing.netlist.name,
            corner=self.asked.corner.value,
            high=self.asked.high,
            asked=megahertz(asked),
            stated=megahertz(stated),
            plain=plain,
            by_step=by_step,
            corners=tuple(self._corner(corner) for corner in Corner),
            groups=tuple(self._groups()),
            steps=tuple(self._steps(asked)),
            holds=tuple(self._holds()),
            widths=tuple(self._widths()),
            origins=origins(arc for arcs in self.plain.graph.into for arc in arcs),
            limiting=origins(limiting),
            cut=tuple(dict.fromkeys(self._net(arc) for arc in (self.by_step or self.plain).cut)),
            unclocked=tuple(self._unclocked()),
            overlaps=tuple(self._overlaps()),
        )

    # ---- the clock

    def _fastest(self, clocked: Clocked, step: str = "") -> reports.Fastest:
        period = period_of(clocked)
        return reports.Fastest(nanoseconds(period), megahertz(period), self._setter(clocked, period), step)

    @staticmethod
    def _setter(clocked: Clocked, period: int) -> reports.Limit | None:
        for limit in clocked.limits[:1]:
            if limit.period == period:
                return limit_report(clocked, limit)
        for width in clocked.widths[:1]:
            if width.period == period:
                return width_report(clocked, width)
        return rate_report(clocked, clocked.rates[0]) if clocked.rates else None

    def _corner(self, corner: Corner) -> reports.CornerClock:
        by_step = self.timing.by_step(corner)
        return reports.CornerClock(
            corner.value,
            megahertz(period_of(self.timing.plain(corner))),
            megahertz(period_of(by_step)) if by_step else 0.0,
        )

    @staticmethod
    def _limiting_arcs(clocked: Clocked) -> list[Arc]:
        return [arc for limit in clocked.limits[:1] for _, arc in clocked.way(limit)]

    # ---- by microstep

    def _limiting_row(self) -> str:
        lanes = [(limit.period, -lane) for lane, limit in enumerate(self.timing.tightest) if limit is not None]
        return self._lane_name(-max(lanes)[1]) if lanes else ""

    def _lane_name(self, lane: int) -> str:
        step = self.timing.steps[lane]
        return row_name(step.rows[0]) if step.rows else step.what

    def _rows(self) -> Iterator[tuple[Row, Limit | None, int]]:
        """Every row of the microprogram with its tightest limit and its lane."""
        for lane, (step, limit) in enumerate(zip(self.timing.steps, self.timing.tightest, strict=True)):
            for row in step.rows:
                yield row, limit, lane

    def _steps(self, asked: int) -> Iterator[reports.StepTime]:
        for row, limit, _ in sorted(self._rows(), key=lambda item: (-_period(item[1]), item[0].block, item[0].step)):
            kind, chip, pin = self._where(limit)
            period = _period(limit)
            yield reports.StepTime(
                row.block, row.step, row.conditions, nanoseconds(period), nanoseconds(asked - period), kind, chip, pin
            )

    def _where(self, limit: Limit | None) -> tuple[str, str, str]:
        if limit is None:
            return "", "", ""
        netlist, demand = self.timing.netlist, limit.demand
        return demand.kind, netlist.chips[demand.chip].reference, netlist.part_of(demand.chip).pins[demand.pin].name

    def _groups(self) -> Iterator[reports.Group]:
        found: dict[int, list[tuple[Row, Limit | None, int]]] = {}
        for item in self._rows():
            found.setdefault(_period(item[1]), []).append(item)
        for period, items in sorted(found.items(), reverse=True):
            _, limit, lane = items[0]
            names = tuple(row_name(row) for row, _, _ in items)
            shown = limit_report(self.by_step, limit, lane) if limit and self.by_step else None
            yield reports.Group(nanoseconds(period), megahertz(period), names, shown)

    # ---- holds and pulses

    def _holds(self) -> Iterator[reports.HoldTime]:
        every: dict[tuple[str, str, str, str, str, str], dict[Corner, int]] = {}
        for corner in Corner:
            for slack in self.timing.plain(corner).hold_slacks:
                of = every.setdefault(hold_key(self.timing.netlist, slack), {})
                of[corner] = min(slack.slack, of.get(corner, slack.slack))
        tight = sorted(every.items(), key=lambda item: (min(item[1].values()), item[0]))
        for key, slacks in tight[:MOST_HOLDS]:
            found = [nanoseconds(slacks.get(corner, min(slacks.values()))) for corner in Corner]
            yield reports.HoldTime(*key, *found)

    def _widths(self) -> Iterator[reports.Limit]:
        yield from (width_report(self.plain, limit) for limit in self.plain.widths[:MOST_WIDTHS])
        yield from (rate_report(self.plain, limit) for limit in self.plain.rates[:MOST_WIDTHS])

    # ---- what is left

    def _overlaps(self) -> Iterator[reports.Overlap]:
        if self.by_step is None:
            return
        flow, netlist = self.timing.flow, self.timing.netlist
        buses = {net: bus.name for bus in netlist.buses for net in bus.nets}
        for meeting in meetings(self.by_step, flow):
            earlier = flow.before[meeting.lane]
            before = (
                next(iter(set_lanes(earlier & self._driving(meeting))), None) if earlier != flow.lanes.all else None
            )
            yield reports.Overlap(
                bus=buses.get(meeting.net, netlist.nets[meeting.net].name),
                outgoing=chip_name(netlist, meeting.outgoing),
                incoming=chip_name(netlist, meeting.incoming),
                nanoseconds=nanoseconds(meeting.picoseconds),
                before="" if before is None else self._lane_name(before),
                after=self._lane_name(meeting.lane),
            )

    def _driving(self, meeting: Meeting) -> int:
        """The lanes in which the outgoing chip may drive the net."""
        wiring, lanes, found = self.timing.wiring, self.timing.flow.lanes, 0
        for driver in wiring.drivers[meeting.net]:
            enable = wiring.drive(driver).enable
            if driver.chip == meeting.outgoing and enable is not None:
                found |= lanes.bit(driver.chip, enable, 0).one
        return found

    def _net(self, arc: Arc) -> str:
        return self.timing.netlist.nets[arc.end // 2].name

    def _unclocked(self) -> Iterator[str]:
        netlist = self.timing.netlist
        for chip, pin in self.plain.gates.strobes:
            net, part = netlist.chips[chip].pins[pin], netlist.part_of(chip)
            if part.behaviour.registers and net != NO_NET and not self.plain.activity.is_still(net):
                clocks = any(self.plain.demands.is_clock(chip, pin, register) for register in part.behaviour.registers)
                if clocks and net not in self.plain.clock_nets:
                    yield f"{netlist.chips[chip].reference} {part.pins[pin].name} on {netlist.nets[net].name}"


def _period(limit: Limit | None) -> int:
    return 0 if limit is None else limit.period


def origins(arcs: Iterable[Arc]) -> reports.Origins:
    """How many of the arcs' times come from where."""
    count = Counter(arc.time.origin for arc in arcs)
    return reports.Origins(*(count[name] for name in ("read", "computed", "estimate", "memory", "assumed")))
