"""Finding the bits of a control word that give every line the level it needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.lanes import Lanes
from latchwork.analysis.lines import LARGEST, Component, Lines
from latchwork.languages.microprogram.errors import Findings, counted, listed
from latchwork.languages.microprogram.lowering.needs import Needs
from latchwork.netlist import NetId


@dataclass(frozen=True)
class Solved:
    """A component with the table of its lines, in their order."""

    component: Component
    tables: tuple[Lanes, ...]

    @cached_property
    def _every(self) -> int:
        """A 1 in the first lane of each choice of word bits."""
        outside, choices = len(self.component.outside), 1 << len(self.component.words)
        stride = 1 << outside
        return sum(1 << stride * choice for choice in range(choices))

    def choices(self, needs: Needs) -> int:
        """All choices of word bits that fit: one bit a choice, spread out by the outside lanes."""
        full = (1 << (1 << self.component.bits)) - 1
        bad = 0
        for (ones, zeros), (is_one, is_zero) in zip(needs, self.tables, strict=True):
            if ones:
                bad |= self._every * ones & ~is_one
            if zeros:
                bad |= self._every * zeros & ~is_zero
        good = full & ~bad
        for bit in range(len(self.component.outside)):
            good &= good >> (1 << bit)
        return good & self._every

    def first(self, needs: Needs) -> int | None:
        """The lowest choice of word bits that fits, None where none does."""
        found = self.choices(needs)
        return (found & -found).bit_length() - 1 >> len(self.component.outside) if found else None

    def alone(self, place: int, needs: Needs) -> bool:
        """Whether the needs of one line could be met if no other line had any."""
        return bool(self.choices(self.only(needs, (place,))))

    @staticmethod
    def only(needs: Needs, places: Sequence[int]) -> Needs:
        return tuple(need if place in places else (0, 0) for place, need in enumerate(needs))


class Solver:
    """All components of a machine, each enumerated once, and each need answered once."""

    def __init__(self, lines: Lines, findings: Findings) -> None:
        self.lines = lines
        self._answers: dict[tuple[int, Needs], int | None] = {}
        self.parts: list[Solved] = []
        for component in lines.components:
            if component.bits > LARGEST:
                _too_large(component, findings)
            else:
                table = lines.table(component)
                self.parts.append(Solved(component, tuple(table[line.name] for line in component.lines)))

    def answer(self, place: int, needs: Needs) -> int | None:
        """The choice of word bits of component number ``place``."""
        key = (place, needs)
        if key not in self._answers:
            self._answers[key] = self.parts[place].first(needs)
        return self._answers[key]

    def bits(self, place: int, choice: int) -> dict[NetId, int]:
        """Word net -> level."""
        words = self.parts[place].component.words
        return {net: choice >> bit & 1 for bit, net in enumerate(words)}


def _too_large(component: Component, findings: Findings) -> None:
    names = listed([line.name for line in component.lines][:6])
    words, outside = counted(len(component.words), "bit"), counted(len(component.outside), "level")
    message = (
        f"{words} of the control word and {outside} from elsewhere (conditions, opcode, interrupt) decide the control "
        f"lines {names} together; Latchwork tries out every combination, of {LARGEST} at most"
    )
    hint = (
        "wire these lines so that fewer bits of the control word reach each of them; state what is constant with "
        "`m.assume`, or with phase={...} when a line takes effect"
    )
    findings.add("U208", message, *[line.position for line in component.lines][:2], help=hint)
