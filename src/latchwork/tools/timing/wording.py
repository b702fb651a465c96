"""Limits of the analysis as the report has them: names of chips and pins, nanoseconds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypedDict

from latchwork.analysis.arrival.checks import Demand, Hold
from latchwork.analysis.arrival.clocked import Clocked, HoldSlack, Limit, RateLimit, WidthLimit
from latchwork.analysis.arrival.graph import Arc
from latchwork.analysis.levels import set_lanes
from latchwork.netlist import ChipId, Netlist
from latchwork.reports import timing as reports

EDGES = ("fall", "rise")
LEVELS = ("low", "high")


def nanoseconds(picoseconds: float) -> float:
    """One digit after the point."""
    return round(picoseconds / 1000, 1)


def megahertz(period: float) -> float:
    """The clock of a period in picoseconds, to three digits; 0 where nothing limits it."""
    return float(f"{1e6 / period:.4g}") if period > 0 else 0.0


def limit_report(clocked: Clocked, limit: Limit, lane: int | None = None) -> reports.Limit:
    """A limit with its whole way, in a lane (the first in which it holds)."""
    demand, chosen = limit.demand, set_lanes(limit.mask)[0] if lane is None else lane
    return reports.Limit(
        period=nanoseconds(limit.period),
        kind=demand.kind,
        **_pin(clocked.netlist, demand.chip, demand.pin),
        reference=_reference(clocked.netlist, demand),
        begins=EDGES[limit.start],
        share=limit.share,
        arrival=nanoseconds(limit.arrival),
        needed=nanoseconds(demand.time.picoseconds),
        clock=nanoseconds(limit.clock),
        source=demand.time.source,
        origin=demand.time.origin,
        earlier=limit.launch.age,
        way=way_report(clocked.netlist, clocked.way(limit, chosen)),
        clock_way=way_report(clocked.netlist, clocked.clock_way(limit, chosen)),
    )


def _reference(netlist: Netlist, asks: Demand | Hold) -> str:
    """ "rise of CLK"."""
    return f"{EDGES[asks.reference & 1]} of {netlist.part_of(asks.chip).pins[asks.at].name}"


def width_report(clocked: Clocked, limit: WidthLimit) -> reports.Limit:
    """A pulse that has to be long enough."""
    width, netlist = limit.width, clocked.netlist
    return reports.Limit(
        period=nanoseconds(limit.period),
        kind=width.kind,
        **_pin(netlist, width.chip, width.pin),
        reference=f"{LEVELS[width.level]} {netlist.part_of(width.chip).pins[width.pin].name}",
        begins="",
        share=limit.share,
        arrival=nanoseconds(limit.begins),
        needed=nanoseconds(width.time.picoseconds),
        clock=nanoseconds(limit.ends),
        source=width.time.source,
        origin=width.time.origin,
    )


def rate_report(clocked: Clocked, limit: RateLimit) -> reports.Limit:
    """A clock pin that takes no more than a frequency."""
    return reports.Limit(
        period=nanoseconds(limit.period),
        kind="maximum clock",
        **_pin(clocked.netlist, limit.chip, limit.pin),
        reference="",
        begins="",
        share=1.0,
        arrival=0.0,
        needed=nanoseconds(limit.period),
        clock=0.0,
        source=limit.source,
        origin=limit.origin,
    )


class _Pin(TypedDict):
    chip: str
    part: str
    pin: str


def _pin(netlist: Netlist, chip: ChipId, pin: int) -> _Pin:
    part = netlist.part_of(chip)
    return _Pin(chip=netlist.chips[chip].reference, part=part.name, pin=part.pins[pin].name)


def way_report(netlist: Netlist, arcs: Iterable[tuple[int, Arc]]) -> tuple[reports.WayPart, ...]:
    return tuple(_arc(netlist, time, arc) for time, arc in arcs)


def _arc(netlist: Netlist, time: int, arc: Arc) -> reports.WayPart:
    part, chip = netlist.part_of(arc.chip), netlist.chips[arc.chip]
    if arc.part_arc is None:
        start, end = (next(pin for pin, net in enumerate(chip.pins) if net == node // 2) for node in arc[:2])
    else:
        start, end = arc.part_arc.start, arc.part_arc.end
    return reports.WayPart(
        chip=chip.reference,
        part=part.name,
        label=chip.label,
        start=part.pins[start].name,
        start_pin=part.pins[start].number,
        end=part.pins[end].name,
        end_pin=part.pins[end].number,
        net=netlist.nets[arc.end // 2].name,
        edge=EDGES[arc.end & 1],
        adds=nanoseconds(arc.picoseconds),
        load=nanoseconds(arc.picoseconds - arc.time.picoseconds),
        sum=nanoseconds(time),
        source=arc.time.source,
        origin=arc.time.origin,
    )


def hold_key(netlist: Netlist, slack: HoldSlack) -> tuple[str, str, str, str, str, str]:
    """What a hold is about: kind, chip, part, pin, reference, and where its figure comes from."""
    hold = slack.hold
    at = _pin(netlist, hold.chip, hold.pin)
    return hold.kind, at["chip"], at["part"], at["pin"], _reference(netlist, hold), hold.time.origin
