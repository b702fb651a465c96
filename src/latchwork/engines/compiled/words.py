"""Which nets are words: neighbours that the same drives drive, bit beside bit, with the same pulls.

A word is evaluated as one number. A net with anything of its own (a keeper, a switch, a resistor to another net, a
probe) is a word of one bit.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from latchwork.engines.compiled.cutting import Cut, cut
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.oracle.grouping import Grouping
from latchwork.engines.oracle.wiring import Wiring
from latchwork.netlist import NetId

OUTSIDE = 64
"""Drivers of devices that lie in one cell."""


@dataclass(frozen=True)
class Word:
    """``nets``: groups, lowest bit first. ``drives``: (number of the drive, its bit at the word's lowest bit).
    ``rails``: switches to a rail, (number of the tie, level). ``pulls``: levels; ``links``: groups at the other end of
    a resistor that may drive. ``fixed``: the level of a rail; ``forced``: held by a probe."""

    nets: tuple[NetId, ...]
    drives: tuple[tuple[int, int], ...] = ()
    rails: tuple[tuple[int, int], ...] = ()
    pulls: tuple[int, ...] = ()
    links: tuple[NetId, ...] = ()
    keepers: tuple[int, ...] = ()
    fixed: int | None = None
    forced: bool = False

    @property
    def width(self) -> int:
        return len(self.nets)

    def follows(self, other: Word, split: Collection[int]) -> bool:
        """Whether this single net is the next bit of another word. ``split``: drives that are no words."""
        if any(drive in split for drive, _ in self.drives):
            return False
        plain = not (self.rails or self.links or self.keepers or self.forced or self.fixed is not None)
        lonely = other.rails or other.links or other.keepers or other.forced or other.fixed is not None
        next_bits = tuple((drive, bit + other.width) for drive, bit in other.drives)
        return plain and not lonely and bool(self.drives) and self.drives == next_bits and self.pulls == other.pulls


@dataclass(frozen=True)
class Layout:
    """``place[net]``: for every net, joined ones included, its word and its bit there. ``cuts``: by rank, the loops
    that are none; ``scratch``: a pool for parts of the chips' own expressions."""

    wiring: Wiring
    grouping: Grouping
    words: tuple[Word, ...]
    place: tuple[tuple[int, int], ...]
    cuts: dict[int, Cut]
    scratch: Pool


def laid_out(wiring: Wiring, grouping: Grouping, forced: Collection[NetId]) -> Layout:
    """``forced``: nets that a probe may hold."""
    cuts = _cuts(wiring, grouping)
    split = {drive for each in cuts.values() for drive in each.split}
    forced_groups = {grouping.group[net] for net in forced}
    singles = [_single(wiring, grouping, net, forced_groups) for net in _groups(grouping)]
    singles.sort(key=lambda word: (word.drives[:1], word.nets))
    words: list[Word] = []
    for word in singles:
        if words and word.follows(words[-1], split):
            last = words.pop()
            words.append(Word((*last.nets, *word.nets), last.drives, pulls=last.pulls))
        else:
            words.append(word)
    where = {net: (number, bit) for number, word in enumerate(words) for bit, net in enumerate(word.nets)}
    return Layout(wiring, grouping, tuple(words), tuple(where[group] for group in grouping.group), cuts, Pool())


def _cuts(wiring: Wiring, grouping: Grouping) -> dict[int, Cut]:
    loops = [(rank, drives) for rank, drives in enumerate(grouping.components) if grouping.loops[rank]]
    return {rank: found for rank, drives in loops if (found := cut(wiring, grouping, drives)) is not None}


def _groups(grouping: Grouping) -> list[NetId]:
    return [net for net, group in enumerate(grouping.group) if net == group]


def _single(wiring: Wiring, grouping: Grouping, net: NetId, forced: Collection[NetId]) -> Word:
    rails = {wiring.netlist.high: 1, wiring.netlist.low: 0}
    held = net in rails or net in forced
    others = [] if held else grouping.links[net]
    may_drive = [
        other
        for other in dict.fromkeys(others)
        if (other not in rails or other in forced)
        and (grouping.contributions[other] or grouping.rails[other] or other in forced)
    ]
    return Word(
        nets=(net,),
        drives=tuple(_drive_of(wiring, number) for number in grouping.contributions[net]),
        rails=tuple((tie, mask >> 1) for tie, mask in grouping.rails[net]),
        pulls=tuple(sorted({rails[other] for other in others if other in rails and other not in forced})),
        links=tuple(may_drive),
        keepers=tuple(grouping.keepers[net]),
        fixed=rails.get(net),
        forced=net in forced,
    )


def _drive_of(wiring: Wiring, contribution: int) -> tuple[int, int]:
    """The drive and the bit that a contribution is; drivers of devices go by ``OUTSIDE`` as drives after the others."""
    if contribution >= wiring.contributions:
        bank, bit = divmod(contribution - wiring.contributions, OUTSIDE)
        return len(wiring.drives) + bank, bit
    low, high = 0, len(wiring.drives)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if wiring.drives[middle].first <= contribution else (low, middle)
    return low, contribution - wiring.drives[low].first
