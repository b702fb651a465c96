"""The lanes of the plain analysis: nothing is known of control words.

Where the outputs of several chips share nets and what they drive can come back to them (a result on the bus that its
own adder reads), each choice of a driving chip is a lane, because no two drive at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

import networkx as nx

from latchwork.analysis.arrival.activity import Activity, still_nets
from latchwork.analysis.arrival.senses import part_arcs
from latchwork.analysis.levels import Given, Lanes
from latchwork.analysis.wiring import Wiring
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import OutputKind

MOST_LANES = 256

DriveId = tuple[ChipId, int]


def plain_activity(wiring: Wiring, contents: Mapping[ChipId, bytes]) -> Activity:
    """Arcs that can matter at all, a lane for each choice of the drivers on nets that feed themselves."""
    still = still_nets(wiring, contents)
    chosen, lanes = {}, 1
    for group in _shared(wiring, still):
        if lanes * len(group) <= MOST_LANES:
            chosen[group] = lanes
            lanes *= len(group)
    off = _off(list(chosen), lanes)
    return Activity(wiring, Lanes(wiring, lanes, Given(contents=contents)), still, off)


def _off(groups: list[tuple[DriveId, ...]], lanes: int) -> dict[DriveId, int]:
    """The lanes in which each drive is not the chosen one."""
    off: dict[DriveId, int] = {}
    for lane, choice in enumerate(product(*groups)) if groups else ():
        for group, taken in zip(groups, choice, strict=True):
            for drive in group:
                if drive != taken:
                    off[drive] = off.get(drive, 0) | 1 << lane
    return off


def _shared(wiring: Wiring, still: Mapping[NetId, int]) -> list[tuple[DriveId, ...]]:
    """Sets of three-state drives that meet on nets which feed themselves."""
    looped = _looped(wiring, still)
    meets: nx.Graph[DriveId] = nx.Graph()
    for net in looped:
        drives = sorted({(driver.chip, driver.drive) for driver in wiring.drivers[net] if _three_state(wiring, driver)})
        if len(drives) > 1:
            nx.add_path(meets, drives)
    return sorted(tuple(sorted(group)) for group in nx.connected_components(meets))


def _three_state(wiring: Wiring, driver: object) -> bool:
    return wiring.kind(driver) is OutputKind.THREE_STATE  # type: ignore[arg-type]


def _looped(wiring: Wiring, still: Mapping[NetId, int]) -> list[NetId]:
    """Nets that lie on a ring of gates."""
    ways: nx.DiGraph[NetId] = nx.DiGraph()
    for chip, item in enumerate(wiring.netlist.chips):
        for arc in part_arcs(wiring.netlist.part_of(chip)):
            start, end = item.pins[arc.start], item.pins[arc.end]
            clocked = arc.kind.value in ("clock", "open")
            if not clocked and NO_NET not in (start, end) and start not in still and end not in still:
                ways.add_edge(start, end)
    return sorted(net for ring in nx.strongly_connected_components(ways) if len(ring) > 1 for net in ring)
