"""Bus turn-around: how long a driver that lets a net go and one that takes it may both be on.

The outgoing driver lets go as late as its ways allow, the incoming one comes as early as its ways allow, both with the
figures of one corner. Counted in a step after which the first is surely off, where a step in which it may have been on
comes before.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from latchwork.analysis.arrival.clocked import Clocked
from latchwork.analysis.arrival.flow import Flow
from latchwork.analysis.arrival.graph import node
from latchwork.analysis.arrival.runs import EVERY_NET, Launch, Pieces, joined
from latchwork.analysis.arrival.senses import FALL, RISE, Kind
from latchwork.analysis.levels import set_lanes
from latchwork.netlist import ChipId, NetId
from latchwork.parts import OutputKind


class Meeting(NamedTuple):
    """In step ``lane`` the chip ``outgoing`` may still drive ``net`` for ``picoseconds`` while ``incoming`` drives it
    already."""

    picoseconds: int
    net: NetId
    outgoing: ChipId
    incoming: ChipId
    lane: int


def meetings(clocked: Clocked, flow: Flow) -> list[Meeting]:
    """The longest meeting of each two chips, the longest one first."""
    found: dict[tuple[ChipId, ChipId], Meeting] = {}
    for net in range(len(clocked.netlist.nets)):
        for meeting in _on_net(clocked, flow, net):
            key = (meeting.outgoing, meeting.incoming)
            if key not in found or found[key].picoseconds < meeting.picoseconds:
                found[key] = meeting
    return sorted(found.values(), reverse=True)


def _on_net(clocked: Clocked, flow: Flow, net: NetId) -> Iterator[Meeting]:
    wiring, lanes = clocked.activity.wiring, flow.lanes
    on: dict[ChipId, int] = {}
    for driver in wiring.drivers[net]:
        drive = wiring.drive(driver)
        if drive.kind is OutputKind.THREE_STATE and drive.enable is not None:
            on[driver.chip] = on.get(driver.chip, 0) | lanes.bit(driver.chip, drive.enable, 0).one
    if len(on) < 2:
        return
    switched = {chip: (_late(clocked, net, chip), _early(clocked, net, chip)) for chip in on}
    for outgoing, was in on.items():
        leaves = flow.after(was) & ~was
        for incoming, is_on in on.items():
            if incoming != outgoing and leaves & is_on:
                yield from _meets(
                    (switched[outgoing][0], switched[incoming][1]), leaves & is_on, net, (outgoing, incoming)
                )


def _meets(times: tuple[Pieces, Pieces], mask: int, net: NetId, chips: tuple[ChipId, ChipId]) -> Iterator[Meeting]:
    for late in times[0]:
        for early in times[1]:
            common = late.mask & early.mask & mask
            if common and late.time > early.time:
                yield Meeting(late.time - early.time, net, *chips, set_lanes(common)[0])


def _late(clocked: Clocked, net: NetId, chip: ChipId) -> Pieces:
    """When a chip has let go of a net, after the edge that begins a step."""
    ways = [
        (pieces[arc.start], arc)
        for run in clocked.latest
        for launch, pieces in run.data.items()
        if not launch.age and run.flow is not None
        for edge in (FALL, RISE)
        for arc in clocked.graph.into[node(net, edge)]
        if arc.chip == chip and arc.kind is Kind.DISABLE
    ]
    return joined(ways, latest=True)


def _early(clocked: Clocked, net: NetId, chip: ChipId) -> Pieces:
    """When a chip begins to drive a net at the earliest."""
    ways = [
        (run.data[Launch(EVERY_NET)][arc.start], arc)
        for run, late in zip(clocked.earliest, clocked.latest, strict=True)
        if late.flow is not None and Launch(EVERY_NET) in run.data
        for edge in (FALL, RISE)
        for arc in clocked.graph.into[node(net, edge)]
        if arc.chip == chip and arc.kind is Kind.ENABLE
    ]
    return joined(ways, latest=False)
