"""Which outputs can drive a net at once, under which control words.

Both enables are worked out for every control word at both levels of the clock. Where that leaves it open, every choice
of the bits that decide it is tried: ``MOST_LEAVES`` of them at most.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from latchwork.analysis.control_words import Situation
from latchwork.analysis.levels import Bit, Given, Lanes, Leaf, both, enumerated, folded, repeated, set_lanes
from latchwork.netlist import NetId
from latchwork.netlist.queries import Driver
from latchwork.parts import OutputKind
from latchwork.tools.rules.facts import Facts

MOST_LEAVES = 12


@dataclass(frozen=True)
class Meeting:
    """``sure``: situations in which both drive under some choice of the ``leaves``; ``doubtful``: those in which it
    can't be told. ``lines``: the active control lines behind each of the two, in the first sure situation."""

    drivers: tuple[Driver, Driver]
    nets: tuple[NetId, ...]
    sure: tuple[Situation, ...]
    doubtful: tuple[Situation, ...]
    leaves: tuple[Leaf, ...] = ()
    lines: tuple[tuple[NetId, ...], tuple[NetId, ...]] = ((), ())


def meetings(facts: Facts) -> Iterator[Meeting]:
    """Every pair of three-state outputs that can meet, or may."""
    for pair, nets in _pairs(facts).items():
        found = _Search(facts, pair).meeting(nets)
        if found.sure or found.doubtful:
            yield found


def _pairs(facts: Facts) -> dict[tuple[Driver, Driver], tuple[NetId, ...]]:
    """Pairs of outputs (each at its first net) with the nets that they share."""
    found: dict[tuple[tuple[int, int], tuple[int, int]], list[tuple[Driver, Driver, NetId]]] = {}
    for net, drivers in enumerate(facts.live_drivers):
        free = [item for item in drivers if facts.wiring.kind(item) is OutputKind.THREE_STATE]
        for a, b in combinations(free, 2):
            found.setdefault(((a.chip, a.drive), (b.chip, b.drive)), []).append((a, b, net))
    return {shared[0][:2]: tuple(net for _, _, net in shared) for shared in found.values()}


class _Search:
    def __init__(self, facts: Facts, pair: tuple[Driver, Driver]) -> None:
        self.facts, self.pair, self.words = facts, pair, facts.words

    def meeting(self, nets: tuple[NetId, ...]) -> Meeting:
        met = self._met()
        situations = self.words.situations(met)
        lanes = Lanes(self.facts.wiring, len(situations), self.words.given(situations))
        apart = self._together(lanes)
        leaves = sorted(leaf for leaf in lanes.met if self._is_open(leaf))
        possible = set_lanes(apart.one)
        if not leaves:
            return self._found(nets, lanes, possible, situations)
        if len(leaves) > MOST_LEAVES:
            certain = set_lanes(apart.one & ~apart.zero)
            doubtful = tuple(situations[lane] for lane in possible if lane not in certain)
            return self._found(nets, lanes, certain, situations, doubtful=doubtful)
        return self._tried(nets, [situations[lane] for lane in possible], leaves)

    def _met(self) -> set[Leaf]:
        scout = Lanes(self.facts.wiring, 1, self.words.unknown)
        self._together(scout)
        return scout.met

    def _together(self, lanes: Lanes) -> Bit:
        return both(*(lanes.enable(driver) for driver in self.pair))

    def _is_open(self, leaf: Leaf) -> bool:
        return leaf not in self.words.word_at and leaf not in self.words.address_at and leaf != self.words.clock

    def _tried(self, nets: tuple[NetId, ...], situations: list[Situation], leaves: list[Leaf]) -> Meeting:
        """Every choice of the leaves in the situations that are left."""
        if not situations:
            return Meeting(self.pair, nets, (), ())
        count, choices = len(situations), 1 << len(leaves)
        lanes = Lanes(self.facts.wiring, count * choices, chosen(self.words.given(situations), leaves, count))
        one = self._together(lanes).one
        hits = set_lanes(folded(one, count, choices))
        first = _first(one, count, hits[0]) if hits else 0
        needed = tuple(leaf for leaf in leaves if leaf in lanes.met)
        return self._found(nets, lanes, hits, situations, leaves=needed, first=first)

    def _found(
        self,
        nets: tuple[NetId, ...],
        lanes: Lanes,
        hits: list[int],
        situations: list[Situation],
        *,
        doubtful: tuple[Situation, ...] = (),
        leaves: tuple[Leaf, ...] = (),
        first: int = -1,
    ) -> Meeting:
        shown = first if first >= 0 else hits[0] if hits else -1
        lines = tuple(self._lines(lanes, driver, shown) for driver in self.pair)
        sure = tuple(situations[lane] for lane in hits)
        return Meeting(self.pair, nets, sure, doubtful, leaves, (lines[0], lines[1]))

    def _lines(self, lanes: Lanes, driver: Driver, lane: int) -> tuple[NetId, ...]:
        """Control lines on the way to a driver's enable that are active in the lane."""
        if lane < 0:
            return ()
        scout = Lanes(self.facts.wiring, 1, self.words.unknown)
        scout.enable(driver)
        behind = scout.walked
        return tuple(
            line.net
            for line in self.facts.netlist.lines
            if line.net in behind and level_in(lanes.net(line.net), lane) == line.active
        )


def chosen(given: Given, leaves: Sequence[Leaf], count: int) -> Given:
    """What is given in ``count`` lanes, repeated under every choice of the leaves."""
    choices = 1 << len(leaves)

    def wide(bit: Bit) -> Bit:
        return Bit(*(repeated(value, count, choices) for value in bit))

    tried = enumerated(leaves, count)
    nets = {net: wide(bit) for net, bit in given.nets.items()}
    marks = {net: repeated(mark, count, choices) for net, mark in given.marks.items()}
    return Given(nets, {leaf: wide(bit) for leaf, bit in given.leaves.items()} | tried, marks, given.contents)


def level_in(bit: Bit, lane: int) -> int:
    """The level in a lane, -1 where it is unknown."""
    one, zero = bit.one >> lane & 1, bit.zero >> lane & 1
    return -1 if one and zero else one


def _first(one: int, count: int, case: int) -> int:
    """The first lane of a case that is 1."""
    while not one >> case & 1:
        case += count
    return case
