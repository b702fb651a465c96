"""The cells of a memory where compiled code and the oracle both reach them."""

from __future__ import annotations

import ctypes
from typing import Any

from latchwork.engines.compiled.emit import Buffer
from latchwork.engines.oracle.cells import Cells
from latchwork.engines.oracle.known import Pair
from latchwork.parts import Memory

WRITTEN, SHOWN = 1, 3
"""Marks of a cell: something was put into it, or it was only shown as it was at power-up. Bit 0: its value counts."""

PAGE = 256
Page = tuple[bytes, bytes]
"""Values and marks of so many cells."""

_TYPES = {8: ctypes.c_uint8, 16: ctypes.c_uint16, 32: ctypes.c_uint32, 64: ctypes.c_uint64}


class SharedCells:
    """Takes the place of ``oracle.cells.Cells`` in the seeded reading, and means the same."""

    lost = was_lost = False
    known = False

    def __init__(self, cells: Cells, memory: Memory) -> None:
        self.width = memory.width
        self.power_up = cells.power_up
        self.stated = cells.stated
        self.keeps = memory.keeps
        size = 1 << memory.address_width
        self.stored = next(each for each in _TYPES if each >= memory.width)
        self.values = (_TYPES[self.stored] * size)()
        self.marks = (ctypes.c_uint8 * size)()
        self.early = set(cells.early)
        self.early_new = cells.early_new
        self.first_early = cells.first_early
        self.undo: dict[int, int] = {}
        self._pages: dict[int, Page] = {}  # as last saved or restored
        self._last: tuple[bytes, bytes, int] = b"", b"", 0
        self._saved: tuple[dict[int, Page], bool, frozenset[int]] = {}, False, frozenset()
        if self.keeps:
            self.values[:] = [int(self.power_up(address)) for address in range(size)]
            self.marks[:] = [WRITTEN] * size
        else:
            for address in filter(self.stated, range(size)):
                self._put(address, self.power_up(address), WRITTEN)
        for address in self.early:
            self._put(address, self.power_up(address), SHOWN)
        for address, value in cells.items():
            self._put(address, value, WRITTEN)

    def buffers(self) -> tuple[Buffer, Buffer]:
        """Where the values and the marks lie."""
        return Buffer(ctypes.addressof(self.values), self.stored), Buffer(ctypes.addressof(self.marks), 8)

    def _put(self, address: int, value: int, mark: int) -> None:
        self.values[address] = value
        self.marks[address] = mark

    def __getitem__(self, address: int) -> int:
        if not self.marks[address]:
            self.first_early = self.first_early if self.early else address
            self.early.add(address)
            self.early_new = True
            self._put(address, self.power_up(address), SHOWN)
        return int(self.values[address])

    def peek(self, address: int) -> int:
        """A cell, without counting as a read of the machine."""
        return int(self.values[address]) if self.marks[address] else int(self.power_up(address))

    def pair(self, address: int) -> Pair:
        return self.peek(address), (1 << self.width) - 1

    def begin_round(self) -> None:
        self.undo.clear()

    def store(self, address: int, value: Pair) -> bool:
        """Put a value into a cell; whether that changed it."""
        old = self.peek(address)
        self._put(address, value[0], WRITTEN)
        if old == value[0]:
            return False
        self.undo.setdefault(address, old)
        return True

    def lose(self) -> bool:
        raise NotImplementedError("in the seeded reading no memory is lost")

    def forget_early(self) -> None:
        for address in self.early:
            if self.marks[address] == SHOWN:
                self.marks[address] = 0
        self.early.clear()
        self.early_new = False

    def saved(self) -> tuple[dict[int, Page], bool, frozenset[int]]:
        """By pages; one that did not change since the last time is the same object again."""
        now = bytes(self.values), bytes(self.marks), len(self.early)
        if now != self._last:
            self._last, self._saved = now, (self._by_pages(), False, frozenset(self.early))
        return self._saved

    def _by_pages(self) -> dict[int, Page]:
        values, marks = memoryview(self.values).cast("B"), memoryview(self.marks).cast("B")
        step = PAGE * (self.stored // 8)
        for number in range(-(-len(marks) // PAGE)):
            page = bytes(values[number * step : (number + 1) * step]), bytes(marks[number * PAGE : (number + 1) * PAGE])
            if self._pages.get(number) != page:
                self._pages[number] = page
        return dict(self._pages)

    def restore(self, saved: Any) -> None:
        pages, _, early = saved
        step = PAGE * (self.stored // 8)
        for number, (values, marks) in pages.items():
            ctypes.memmove(ctypes.addressof(self.values) + number * step, values, len(values))
            ctypes.memmove(ctypes.addressof(self.marks) + number * PAGE, marks, len(marks))
        self._pages, self.early = dict(pages), set(early)
        self._last, self._saved = (bytes(self.values), bytes(self.marks), len(early)), saved
        self.begin_round()
