"""Giving blocks their micro-addresses: pinned ones first, then those that did not change, then the rest in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from latchwork.base.position import NOWHERE, Position
from latchwork.languages.microprogram.errors import Findings, counted
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.model import ControlProgram


@dataclass(frozen=True)
class Need:
    """A run of micro-addresses that follow each other. ``pinned``: where it must begin, or -1; ``before``: where it
    began in the program before, or -1; ``unchanged``: it asks for the same as then."""

    name: str
    length: int
    pinned: int = -1
    before: int = -1
    unchanged: bool = False
    position: Position = NOWHERE


class Places:
    """``following``: micro-address -> the next one. ``cell``: the store address that a micro-address shows, as far as
    the store sees it. ``may_start``: whether a block can begin there."""

    def __init__(
        self,
        following: Mapping[int, int],
        cell: Callable[[int], int],
        may_start: Callable[[int], bool],
        findings: Findings,
    ) -> None:
        self._following = following
        self._cell = cell
        self._may_start = may_start
        self._findings = findings
        self._taken: dict[int, str] = {}

    def take(self, name: str, numbers: Iterable[int]) -> None:
        """Claim micro-addresses."""
        for number in numbers:
            self._taken[self._cell(number)] = name

    def run(self, start: int, length: int) -> list[int]:
        """The micro-addresses of a run."""
        numbers = [start]
        while len(numbers) < length:
            numbers.append(self._following[numbers[-1]])
        return numbers

    def free(self, start: int, length: int) -> bool:
        cells = [self._cell(number) for number in self.run(start, length)]
        return len(set(cells)) == length and not any(cell in self._taken for cell in cells)

    def allocate(self, needs: Iterable[Need]) -> dict[str, int]:
        """Where each run begins."""
        waiting = list(needs)
        starts: dict[str, int] = {}
        for need in [need for need in waiting if need.pinned >= 0]:
            self._pin(need, starts)
        for unchanged in (True, False):
            for need in waiting:
                if need.name not in starts and need.before >= 0 and need.unchanged is unchanged:
                    self._try(need, need.before, starts)
        left = [need for need in waiting if need.name not in starts]
        for place, need in enumerate(left):
            if not self._anywhere(need, starts):
                self._no_room(need, len(left) - place - 1)
                break
        return starts

    def _try(self, need: Need, start: int, starts: dict[str, int]) -> bool:
        if start not in self._following or not self._may_start(start) or not self.free(start, need.length):
            return False
        starts[need.name] = start
        self.take(need.name, self.run(start, need.length))
        return True

    def _pin(self, need: Need, starts: dict[str, int]) -> None:
        if self._try(need, need.pinned, starts):
            return
        where = f"{need.pinned:#x}"
        if need.pinned not in self._following:
            reason = f"there are only {counted(len(self._following), 'micro-address')}"
        elif not self._may_start(need.pinned):
            reason = "the wiring cannot load it"
        else:
            cells = (self._cell(number) for number in self.run(need.pinned, need.length))
            other = next((self._taken[cell] for cell in cells if cell in self._taken), need.name)
            reason = f"its {counted(need.length, 'step')} would meet those of `{other}`"
        message = f"`{need.name}` cannot be pinned at {where}: {reason}"
        self._findings.add("U237", message.replace("addresss", "addresses"), need.position)
        starts[need.name] = need.pinned

    def _anywhere(self, need: Need, starts: dict[str, int]) -> bool:
        return any(self._try(need, start, starts) for start in sorted(self._following))

    def _no_room(self, need: Need, others: int) -> None:
        message = f"no room for the {counted(need.length, 'step')} of `{need.name}`: "
        message += f"{len(self._taken)} micro-addresses are taken, and no free run of this length can be reached"
        hint = f"{counted(others, 'block')} more had no turn yet" if others else ""
        self._findings.add("U233", message, need.position, help=hint)


def settings_by_block(program: ControlProgram | None) -> dict[str, list[object]]:
    """What the rows of each block of an earlier program asked for."""
    found: dict[str, list[object]] = {}
    for row in program.rows if program else ():
        found.setdefault(row.block, []).append((row.step, row.conditions, row.settings))
    return found


def settings_of(rows: Iterable[PlacedRow]) -> list[object]:
    """The same for rows in the making."""
    return [(row.step, row.where.conditions, row.wish.settings) for row in rows if row.listed]
