"""What depends on the switches: which nets are one, what drives each group, and in which order to evaluate.

A closed switch makes one group of two nets; the supply nets never join one, a closed switch to them is a strong
driver. A group goes by its net with the lowest number.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from latchwork.engines.oracle.masks import level_mask
from latchwork.engines.oracle.wiring import Wiring, is_switch, rail_end
from latchwork.engines.ordering import ordered_components
from latchwork.netlist import NetId
from latchwork.parts import TieKind


@dataclass(frozen=True)
class Grouping:
    """Lists by net are only filled for the net that a group goes by, ``group[net]``, unless said otherwise."""

    group: list[NetId]  # of every net
    members: list[list[NetId]]
    contributions: list[list[int]]  # of drives, by number
    rails: list[list[tuple[int, int]]]  # switches to a rail, closed or open: (number of the tie, mask)
    links: list[list[NetId]]  # groups at the other end of a resistor
    keepers: list[list[int]]
    readers: list[list[int]]  # drives
    ranks: list[int]  # of each drive: its place in the order
    components: list[tuple[int, ...]]  # by rank: the drives evaluated together, more than one in a loop
    loops: list[bool]  # by rank
    inner: dict[int, set[NetId]]  # by rank of a loop: the groups that its drives read


def grouped(wiring: Wiring, closed: Collection[int]) -> Grouping:
    """``closed``: the ties (by number) that are closed switches between nets that are no rails."""
    count = len(wiring.names)
    group = list(range(count))
    for number in sorted(closed):
        _join(group, wiring.ties[number].a, wiring.ties[number].b)
    group = [_found(group, net) for net in range(count)]
    rails: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for number, tie in enumerate(wiring.ties):
        if is_switch(tie) and (rail := rail_end(wiring, tie)) is not None:
            net, level = rail
            rails[group[net]].append((number, level_mask(level)))
    members, contributions, links, keepers, readers = ([[] for _ in range(count)] for _ in range(5))  # type: ignore[var-annotated]
    for net in range(count):
        members[group[net]].append(net)
    for drive in wiring.drives:
        for bit, net in enumerate(drive.outputs):
            contributions[group[net]].append(drive.first + bit)
    for tie in wiring.ties:
        if tie.tie.kind is TieKind.RESISTOR and group[tie.a] != group[tie.b]:
            links[group[tie.a]].append(group[tie.b])
            links[group[tie.b]].append(group[tie.a])
    for number, keeper in enumerate(wiring.keepers):
        keepers[group[keeper.net]].append(number)
    for number, drive in enumerate(wiring.drives):
        for net in dict.fromkeys(group[net] for net in drive.bound.nets):
            readers[net].append(number)
    components = ordered_components(_successors(wiring, group, links, readers))
    ranks = [0] * len(wiring.drives)
    loops, inner = [], {}
    for rank, component in enumerate(components):
        for number in component:
            ranks[number] = rank
        read = {group[net] for number in component for net in wiring.drives[number].bound.nets}
        loops.append(len(component) > 1 or bool(read & _reached(wiring, group, links, component[0])))
        if loops[-1]:
            inner[rank] = read
    return Grouping(group, members, contributions, rails, links, keepers, readers, ranks, components, loops, inner)


def _join(group: list[NetId], a: NetId, b: NetId) -> None:
    a, b = _found(group, a), _found(group, b)
    group[max(a, b)] = min(a, b)


def _found(group: list[NetId], net: NetId) -> NetId:
    while group[net] != net:
        net = group[net]
    return net


def _reached(wiring: Wiring, group: list[NetId], links: list[list[NetId]], number: int) -> set[NetId]:
    """The groups whose value a drive has a part in: those it drives, and those at the other end of a resistor."""
    driven = {group[net] for net in wiring.drives[number].outputs} - {wiring.netlist.high, wiring.netlist.low}
    return driven | {other for net in driven for other in links[net]}


def _successors(
    wiring: Wiring, group: list[NetId], links: list[list[NetId]], readers: list[list[int]]
) -> list[list[int]]:
    """For each drive those that read what it has a part in."""
    return [
        sorted({reader for net in _reached(wiring, group, links, number) for reader in readers[net]})
        for number in range(len(wiring.drives))
    ]
