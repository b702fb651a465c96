"""What depends on the switches: which nets are one, what drives each group, and in which order to evaluate.

A closed switch makes one group of two nets; the supply nets never join one, a closed switch to them is a strong
driver. A group goes by its net with the lowest number.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from latchwork.engines.oracle.masks import level_mask
from latchwork.engines.oracle.wiring import Wiring, is_switch, rail_end
from latchwork.engines.ordering import ordered_components
from latchwork.netlist import NetId
from latchwork.parts import TieKind

Item = TypeVar("Item")


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
    group = _groups(wiring, closed)
    links, readers = _links(wiring, group), _readers(wiring, group)
    components = ordered_components(_successors(wiring, group, links, readers))
    read = [{group[net] for number in each for net in wiring.drives[number].bound.nets} for each in components]
    loops = [
        len(each) > 1 or bool(read[rank] & _reached(wiring, group, links, each[0]))
        for rank, each in enumerate(components)
    ]
    return Grouping(
        group=group,
        members=_by_group(group, ((net, net) for net in range(len(group)))),
        contributions=_by_group(group, _outputs(wiring)),
        rails=_by_group(group, _rail_switches(wiring)),
        links=links,
        keepers=_by_group(group, ((keeper.net, number) for number, keeper in enumerate(wiring.keepers))),
        readers=readers,
        ranks=_ranks(components, len(wiring.drives)),
        components=components,
        loops=loops,
        inner={rank: nets for rank, nets in enumerate(read) if loops[rank]},
    )


def _by_group(group: list[NetId], items: Iterable[tuple[NetId, Item]]) -> list[list[Item]]:
    """Items that belong to nets, gathered under the net that each group goes by."""
    found: list[list[Item]] = [[] for _ in group]
    for net, item in items:
        found[group[net]].append(item)
    return found


def _outputs(wiring: Wiring) -> Iterator[tuple[NetId, int]]:
    for drive in wiring.drives:
        yield from ((net, drive.first + bit) for bit, net in enumerate(drive.outputs))
    yield from ((each.net, wiring.contributions + n) for n, each in enumerate(wiring.outside))


def _rail_switches(wiring: Wiring) -> Iterator[tuple[NetId, tuple[int, int]]]:
    for number, tie in enumerate(wiring.ties):
        if is_switch(tie) and (rail := rail_end(wiring, tie)) is not None:
            net, level = rail
            yield net, (number, level_mask(level))


def _links(wiring: Wiring, group: list[NetId]) -> list[list[NetId]]:
    ties = [tie for tie in wiring.ties if tie.tie.kind is TieKind.RESISTOR and group[tie.a] != group[tie.b]]
    ends = [(tie.a, group[tie.b]) for tie in ties] + [(tie.b, group[tie.a]) for tie in ties]
    return _by_group(group, ends)


def _readers(wiring: Wiring, group: list[NetId]) -> list[list[int]]:
    pairs = ((net, n) for n, drive in enumerate(wiring.drives) for net in {group[each] for each in drive.bound.nets})
    return _by_group(group, pairs)


def _ranks(components: list[tuple[int, ...]], count: int) -> list[int]:
    ranks = [0] * count
    for rank, component in enumerate(components):
        for number in component:
            ranks[number] = rank
    return ranks


def _groups(wiring: Wiring, closed: Collection[int]) -> list[NetId]:
    """For each net the one that its group goes by."""
    group = list(range(len(wiring.names)))
    for number in sorted(closed):
        _join(group, wiring.ties[number].a, wiring.ties[number].b)
    return [_found(group, net) for net in range(len(group))]


def _join(group: list[NetId], a: NetId, b: NetId) -> None:
    a, b = _found(group, a), _found(group, b)
    group[max(a, b)] = min(a, b)


def _found(group: list[NetId], net: NetId) -> NetId:
    while group[net] != net:
        net = group[net]
    return net


def _reached(wiring: Wiring, group: list[NetId], links: list[list[NetId]], number: int) -> set[NetId]:
    """The groups whose value a drive has a part in: those it drives, and those at the other end of a resistor; no
    rail is among them, for a rail carries its level whatever is on it."""
    rails = {wiring.netlist.high, wiring.netlist.low}
    driven = {group[net] for net in wiring.drives[number].outputs} - rails
    return driven | {other for net in driven for other in links[net]} - rails


def _successors(
    wiring: Wiring, group: list[NetId], links: list[list[NetId]], readers: list[list[int]]
) -> list[list[int]]:
    """For each drive those that read what it has a part in."""
    return [
        sorted({reader for net in _reached(wiring, group, links, number) for reader in readers[net]})
        for number in range(len(wiring.drives))
    ]
