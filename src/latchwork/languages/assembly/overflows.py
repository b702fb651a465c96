"""Sections that are full: each is told of once, at the first word without room, with the number of all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from latchwork.languages.assembly.errors import Refusal, counted
from latchwork.languages.assembly.frames import Where
from latchwork.languages.assembly.target import Place


@dataclass
class Overflows:
    """For each full section where that was first noticed, and how many words found no room."""

    first: dict[str, tuple[Where, Place]] = field(default_factory=dict)
    words: dict[str, int] = field(default_factory=dict)

    def note(self, where: Where, place: Place, words: int) -> None:
        """So many words find no room in a section."""
        self.first.setdefault(place.name, (where, place))
        self.words[place.name] = self.words.get(place.name, 0) + words

    def refusals(self) -> Iterator[tuple[Where, Refusal]]:
        """What there is to tell, by section."""
        for name, (where, place) in self.first.items():
            words = self.words[name]
            many = (
                f"{counted(words, 'word')} of the program {'has' if words == 1 else 'have'} no room in its {place.size}"
            )
            help = f"it goes from ${place.start:x} to ${place.end - 1:x}"
            yield where, Refusal("A151", f"section `{name}` is full: {many}", where.line.word_column, help)
