"""Where everything of a running machine lies: one block of 64-bit cells, shared by Python and compiled code."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass, field

from latchwork.engines.compiled.errors import NotCompilable

UNDO_ROWS = 512
ASK_ROWS = 512
OUTSIDE_CELLS = ("outside_on", "outside_high")
"""Which drivers of devices are on, and which of these are high."""


@dataclass
class Shape:
    """How many cells each region has, in order. What stands before ``turned`` is put back when a tick is undone."""

    slots: int
    ties: int
    kept: int
    forced: int
    loops: int  # lows and highs of each drive within a loop, by turns
    senses: int
    memos: int
    fights: int
    words: int
    outside: int  # banks of drivers of devices
    start: dict[str, int] = field(default_factory=dict)
    size: int = 0

    def __post_init__(self) -> None:
        regions = {
            "slots": self.slots, "ties": self.ties, "kept": self.kept, "forced": self.forced, "loops": self.loops,
            **dict.fromkeys(OUTSIDE_CELLS, self.outside),
            "senses": self.senses, "memos": self.memos, "fights": self.fights, "clocks": 1, "clock": 1, "ticks": 1,
            "counter": 5, "turned": self.senses, "shadow": 0, "undone": 1, "undo": 4 * UNDO_ROWS, "asked": 1,
            "asks": 2 * ASK_ROWS, "bits": self.words, "carried": self.words,
        }  # fmt: skip
        at = 0
        for name, count in regions.items():
            self.start[name] = at
            at += self.start["turned"] if name == "shadow" else count
        self.size = at

    @property
    def live(self) -> int:
        """So many cells from the start are state."""
        return self.start["turned"]

    def cell(self, region: str, index: int = 0) -> int:
        return self.start[region] + index


def new_cells(shape: Shape) -> ctypes.Array[ctypes.c_uint64]:
    return (ctypes.c_uint64 * shape.size)()


def fits(width: int, what: str) -> None:
    """Raises NotCompilable for what is wider than a cell."""
    if width > 64:
        raise NotCompilable(f"{what} has {width} bits, compiled code holds up to 64 in one piece")
