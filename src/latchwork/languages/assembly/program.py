"""What assembling gives: words by address space, symbols, and the lines they come from. Frozen."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from latchwork.base.position import Position
from latchwork.languages.assembly.target import Place
from latchwork.netlist import ChipId
from latchwork.problems import Problem


class Symbol(NamedTuple):
    """A label, with the space it lies in, or a constant (space "")."""

    name: str
    value: int
    space: str
    position: Position


class ListedLine(NamedTuple):
    """A line as it was assembled. ``depth`` counts the macros and repeats around it, files included too.

    ``address`` is -1 where the line made no words and has no place; ``clocks`` least and most of an instruction,
    (0, 0) else.
    """

    position: Position
    text: str
    depth: int
    section: str
    space: str
    address: int
    words: tuple[int, ...]
    clocks: tuple[int, int]


@dataclass(frozen=True)
class Program:
    """``words``: for each address space the words at the addresses that the program fills; ``bits``: their width.

    ``contents``: the bytes of the chips that hold them, once the program was fitted to a machine's wiring. ``moved``:
    sections whose words are stored elsewhere than where they run; ``words`` has them where they run.
    """

    source: str
    words: Mapping[str, Mapping[int, int]]
    bits: Mapping[str, int]
    symbols: tuple[Symbol, ...]
    lines: tuple[ListedLine, ...]
    warnings: tuple[Problem, ...] = ()
    contents: Mapping[ChipId, bytes] = field(default_factory=dict)
    moved: tuple[Place, ...] = ()

    @cached_property
    def symbol_named(self) -> dict[str, Symbol]:
        return {symbol.name: symbol for symbol in self.symbols}

    @cached_property
    def stored(self) -> dict[str, dict[int, int]]:
        """The words by space and address where memories hold them before anything was copied."""
        found: dict[str, dict[int, int]] = {space: {} for space in self.words}
        for space, words in self.words.items():
            for address, word in words.items():
                there, at = self.load_place(space, address)
                found.setdefault(there, {})[at] = word
        return {space: dict(sorted(words.items())) for space, words in found.items()}

    def load_place(self, space: str, address: int) -> tuple[str, int]:
        """Where the word is stored that runs at an address: space and address."""
        for place in self.moved:
            if place.space == space and place.start <= address < place.end:
                return place.load_space, place.load_start + address - place.start
        return space, address

    def run_place(self, space: str, address: int) -> tuple[str, int]:
        """Where the word runs that is stored at an address."""
        for place in self.moved:
            if place.load_space == space and place.load_start <= address < place.load_start + place.size:
                return place.space, place.start + address - place.load_start
        return space, address

    @cached_property
    def labels(self) -> dict[str, tuple[str, int]]:
        """Name of each label -> its space and address."""
        return {symbol.name: (symbol.space, symbol.value) for symbol in self.symbols if symbol.space}

    @cached_property
    def _starts(self) -> dict[tuple[str, int], ListedLine]:
        return {(line.space, line.address): line for line in self.lines if line.words}

    def line_at(self, space: str, address: int) -> ListedLine | None:
        """The line whose first word stands at the address."""
        return self._starts.get((space, address))

    def position_at(self, space: str, address: int) -> Position | None:
        """File and line that made the word at the address; None where the program has none."""
        if address not in self.words.get(space, ()):
            return None
        places = self._addresses[space]
        return self._starts[space, places[bisect_right(places, address) - 1]].position

    @cached_property
    def _addresses(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {space: [] for space in self.words}
        for space, address in self._starts:
            found[space].append(address)
        return {space: sorted(addresses) for space, addresses in found.items()}

    def label_at(self, space: str, address: int) -> str:
        """The label at the address, the last written one of several; "" where there is none."""
        found = [symbol.name for symbol in self.symbols if symbol.space == space and symbol.value == address]
        return found[-1] if found else ""
