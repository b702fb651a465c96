"""Whether what a chip takes really hangs on some nets, tried with random levels.

A mark reaches too far where the nets' levels fall out again: an adder slice that forms (a and b) or (a and not b) does
not hang on b. So everything that is open gets ``TRIES`` random levels, the nets two independent ones beside each other,
and what is taken is compared.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence

from latchwork.analysis.control_words import Situation
from latchwork.analysis.levels import Bit, Given, Lanes, Leaf, folded, repeated, set_lanes
from latchwork.netlist import NetId
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.taking import Taking, pairs_of, taking_lanes

TRIES = 4096


def really_taken(
    facts: Facts, taking: Taking, nets: Sequence[NetId], situations: Sequence[Situation], hits: Iterable[int]
) -> list[int]:
    """Those of the lanes ``hits`` (numbers of situations) that hang on the nets, and those that no try decided."""
    wanted = sorted(hits)
    keys = {(situations[lane].word, situations[lane].address) for lane in wanted}
    order = [lane for lane, item in enumerate(situations) if (item.word, item.address) in keys]
    chosen = [situations[lane] for lane in order]
    differs, decided = _tried(facts, taking, nets, chosen)
    return [lane for lane in wanted if order.index(lane) in differs or order.index(lane) not in decided]


def _tried(
    facts: Facts, taking: Taking, nets: Sequence[NetId], situations: Sequence[Situation]
) -> tuple[set[int], set[int]]:
    """Situations in which what is taken differs, and those in which some try took anything from the idle nets."""
    rng, count = random.Random(taking.own), len(situations)
    base = _random_given(facts, taking, nets, situations, rng)
    first, second = (Lanes(facts.wiring, count * TRIES, _with_nets(base, nets, count * TRIES, rng)) for _ in range(2))
    open_now = taking_lanes(first, taking, pairs_of(situations)) & _idle(facts, first, nets)
    apart = 0
    for data in taking.data:
        for place in range(data.width):
            a, b = (lanes.bit(taking.chip, data, place) for lanes in (first, second))
            apart |= (a.one ^ b.one) | (a.zero ^ b.zero)
    differs, decided = (set_lanes(folded(found, count, TRIES)) for found in (apart & open_now, open_now))
    return set(differs), set(decided)


def _idle(facts: Facts, lanes: Lanes, nets: Sequence[NetId]) -> int:
    result = lanes.all
    for driver in facts.live_drivers[nets[0]]:
        result &= ~lanes.enable(driver).one
    return result


def _random_given(
    facts: Facts, taking: Taking, nets: Sequence[NetId], situations: Sequence[Situation], rng: random.Random
) -> Given:
    """The situations with random levels for everything that they leave open."""
    count = len(situations)
    given = facts.words.given(situations)

    def wide(bit: Bit) -> Bit:
        return Bit(*(repeated(value, count, TRIES) for value in bit))

    leaves = {leaf: wide(bit) for leaf, bit in given.leaves.items()}
    for leaf in sorted(_met(facts, taking, nets)):
        if leaf not in leaves and not (leaf.kind == "net" and leaf.place in given.nets):
            leaves[leaf] = _random_bit(count * TRIES, rng)
    return Given({net: wide(bit) for net, bit in given.nets.items()}, leaves, {}, given.contents)


def _met(facts: Facts, taking: Taking, nets: Sequence[NetId]) -> set[Leaf]:
    scout = Lanes(facts.wiring, 1, facts.words.unknown)
    scout.bit(taking.chip, taking.control, 0)
    for data in taking.data:
        for place in range(data.width):
            scout.bit(taking.chip, data, place)
    for driver in facts.live_drivers[nets[0]]:
        scout.enable(driver)
    return scout.met


def _random_bit(width: int, rng: random.Random) -> Bit:
    one = rng.getrandbits(width)
    return Bit(one, one ^ ((1 << width) - 1))


def _with_nets(given: Given, nets: Sequence[NetId], width: int, rng: random.Random) -> Given:
    return Given({**given.nets, **{net: _random_bit(width, rng) for net in nets}}, given.leaves, {}, given.contents)
