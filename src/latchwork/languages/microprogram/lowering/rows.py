"""Rows on their way: where each stands, what it wants, and, in the end, its word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from latchwork.analysis.store import StoreWiring
from latchwork.base.position import NOWHERE, Position
from latchwork.languages.microprogram.lowering.needs import Circumstances
from latchwork.languages.microprogram.lowering.wishes import Wish
from latchwork.netlist import NetId


@dataclass
class PlacedRow:
    """A row with all logical addresses that hold it (bit i: address net i). ``listed``: the source asked for it;
    the other rows fill what no step uses."""

    block: str
    step: int
    wish: Wish
    where: Circumstances
    addresses: list[int] = field(default_factory=list)
    listed: bool = True
    position: Position = NOWHERE
    bits: dict[NetId, int] = field(default_factory=dict)

    def word(self, nets: Sequence[NetId]) -> int:
        """The bits found so far; those that nothing asks for are 0."""
        return sum(self.bits.get(net, 0) << bit for bit, net in enumerate(nets))

    @property
    def named(self) -> str:
        """For sentences: step 2 of `add r`."""
        when = " and ".join(f"{name} = {level}" for name, level in self.where.conditions)
        step = f"step {self.step} of `{self.block}`" if self.block else "a step that asks for nothing"
        return f"{step} with {when}" if when else step


class Sight:
    """Which address bits each store chip sees."""

    def __init__(self, store: StoreWiring) -> None:
        self._store = store
        self._seen = [
            sum(1 << bit for bit, net in enumerate(store.address_nets) if net in chip.address) for chip in store.chips
        ]
        self.all = (1 << len(store.address_nets)) - 1

    def mask(self, words: Sequence[NetId]) -> int:
        """The address bits that all chips with one of these word bits see."""
        result = self.all
        for net in words:
            for chip in self._store.chips_of_word[net]:
                result &= self._seen[chip]
        return result


def alike(rows: Sequence[PlacedRow], mask: int) -> Iterator[list[PlacedRow]]:
    """Groups of rows that share an address as far as ``mask`` lets it be seen: their bits must be equal."""
    group_of = list(range(len(rows)))

    def root(place: int) -> int:
        while group_of[place] != place:
            group_of[place] = group_of[group_of[place]]
            place = group_of[place]
        return place

    first: dict[int, int] = {}
    for place, row in enumerate(rows):
        for address in row.addresses:
            other = first.setdefault(address & mask, place)
            a, b = sorted((root(other), root(place)))
            group_of[b] = a
    groups: dict[int, list[PlacedRow]] = {}
    for place, row in enumerate(rows):
        groups.setdefault(root(place), []).append(row)
    yield from groups.values()
