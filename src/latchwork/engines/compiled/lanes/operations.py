"""The operations that lanes are made to go through, and lists of them.

A row holds one bit of each lane. Operations of one kind stand together in groups, so that whoever carries them out
seldom has to look what comes next.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import IntEnum

ROW = 64
"""Bytes of a row."""


class Op(IntEnum):
    END = 0
    AND = 1
    AND_NOT = 2
    NOR = 3
    XOR = 4
    CHOOSE = 5  # to, select, yes, no
    CHOOSE_NOT = 6  # the same with no inverted
    OR = 7
    AND_OR = 8  # to, a, b, c, d: a and b, or c and d
    NOT = 9
    COPY = 10  # to, from
    ADDRESS = 11  # number of an address
    READ = 12  # number of a read
    WRITE = 13  # number of a write
    UPDATE = 14  # to, from: copy, and note the lanes in which that changed something
    LOOP = 15  # a row that is set to ones
    AGAIN = 16  # hold 1, hold 0, following 1, following 0; then how far to go back if a hold changed
    LOOK = 17  # a row of which lanes are compared with lane 0
    TRAP = 18  # a row: lanes that are stuck
    OPEN = 19  # two rows: lanes that are stuck, being set in both


WIDTHS = {
    Op.AND: 3, Op.AND_NOT: 3, Op.NOR: 3, Op.XOR: 3, Op.CHOOSE: 4, Op.CHOOSE_NOT: 4, Op.OR: 3, Op.AND_OR: 5, Op.NOT: 2,
    Op.COPY: 2, Op.ADDRESS: 1, Op.READ: 1, Op.WRITE: 1, Op.UPDATE: 2, Op.LOOP: 1, Op.AGAIN: 4, Op.LOOK: 1, Op.TRAP: 1,
    Op.OPEN: 2,
}  # fmt: skip
"""Numbers of a record. Rows in COPY, UPDATE, LOOK, TRAP and of addresses may be inverted: plus 1."""

ZEROS, ONES, ACTIVE, CHANGED, STUCK, DIFFERENT, LEFT, FIRST_FREE = range(8)
"""Rows with a meaning of their own."""


@dataclass
class Code:
    """``words``: groups (operation, count, records); a row in a record is its number times ``ROW``."""

    words: list[int] = field(default_factory=list)
    _last: int = -1  # where the last group begins

    def add(self, op: Op, *record: int) -> None:
        assert len(record) == WIDTHS[op]
        if self._last < 0 or self.words[self._last] != op:
            self._last = len(self.words)
            self.words += (op, 0)
        self.words[self._last + 1] += 1
        self.words += record

    def mark(self) -> int:
        """Begin a group anew; where that is."""
        self._last = -1
        return len(self.words)

    def again(self, back: int, records: Iterable[tuple[int, ...]]) -> None:
        self.mark()
        for record in records:
            self.add(Op.AGAIN, *record)
        self.words.append(back)
        self._last = -1

    def ended(self) -> list[int]:
        return [*self.words, Op.END, 0]


@dataclass
class Rows:
    """Which row a node has, and which hold constants: ``masks`` by row."""

    count: int = FIRST_FREE
    masks: dict[int, int] = field(default_factory=dict)
    free: list[int] = field(default_factory=list)

    def take(self, again: bool = False) -> int:
        """A row; ``again``: one may have been used before."""
        if again and self.free:
            return self.free.pop()
        self.count += 1
        return self.count - 1
