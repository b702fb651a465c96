"""The cells of a memory: a dictionary that makes up the power-up value of a cell when it is first asked for.

In the plain reading a cell is a number, in the known reading a pair (bits, known). Cells that are read before
anything was put into them are remembered in ``early``: state from power-up that the machine came to depend on.

What is saved goes by pages of 256 cells; a page that did not change since is the same object in every save.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from latchwork.engines.oracle.known import UNKNOWN, Pair

PAGE_BITS = 8
Page = dict[int, Any]


class Cells(dict[int, Any]):
    """``power_up`` gives a cell's first value; with ``known`` as a pair. ``image``: whether it is stated contents
    and no accident. ``undo`` holds what the last round overwrote, None standing for a cell nobody had asked for."""

    def __init__(self, width: int, power_up: Callable[[int], Any], stated: Callable[[int], bool], known: bool) -> None:
        super().__init__()
        self.width = width
        self.power_up = power_up
        self.stated = stated
        self.known = known
        self.early: set[int] = set()
        self.early_new = False  # whether more were read since that was last asked
        self.first_early = 0
        self.undo: dict[int, Any] = {}
        self.lost = False  # an unknown write may have hit any cell: only those in the dictionary are known
        self.was_lost = False
        self._pages: dict[int, Page] = {}  # as last saved or restored
        self._moved: set[int] = set()  # pages that changed since

    def __missing__(self, address: int) -> Any:
        if not self.lost and not self.stated(address) and address not in self.early:
            self.first_early = self.first_early if self.early else address
            self.early.add(address)
            self.early_new = True
        return self._first(address)

    def _first(self, address: int) -> Any:
        return UNKNOWN if self.lost else self.power_up(address)

    def peek(self, address: int) -> Any:
        """A cell, without counting as a read of the machine."""
        return self[address] if address in self else self._first(address)

    def pair(self, address: int) -> Pair:
        """A cell as (bits, known), without counting as a read."""
        value = self.peek(address)
        return value if self.known else (value, (1 << self.width) - 1)

    def begin_round(self) -> None:
        """From here on, ``before`` shows the cells as they are now."""
        self.undo.clear()
        self.was_lost = self.lost

    def store(self, address: int, value: Pair) -> bool:
        """Put a value into a cell; whether that changed it."""
        new = value if self.known else value[0]
        old = self.get(address)
        if old == new:
            return False
        self._moved.add(address >> PAGE_BITS)
        if old is None and self._first(address) == new:
            self[address] = new
            return False
        self.undo.setdefault(address, old)
        self[address] = new
        return True

    def lose(self) -> bool:
        """Forget everything: a write whose strobe or address is unknown. Whether anything was there to forget."""
        if self.lost and not self:
            return False
        for address, value in self.items():
            self.undo.setdefault(address, value)
        self._moved.update(address >> PAGE_BITS for address in self)
        self.clear()
        self.lost = True
        return True

    def forget_early(self) -> None:
        """Early reads so far no longer count: the machine has been reset since."""
        self.early.clear()
        self.early_new = False

    def saved(self) -> tuple[dict[int, Page], bool, frozenset[int]]:
        for number in self._moved:
            page = {address: self[address] for address in _addresses(number) if address in self}
            self._pages[number] = page
            if not page:
                del self._pages[number]
        self._moved.clear()
        return dict(self._pages), self.lost, frozenset(self.early)

    def restore(self, saved: tuple[dict[int, Page], bool, frozenset[int]]) -> None:
        pages, self.lost, early = saved
        changed = {n for n in self._pages.keys() | pages.keys() if self._pages.get(n) is not pages.get(n)}
        for number in self._moved | changed:
            for address in _addresses(number):
                self.pop(address, None)
            self.update(pages.get(number, {}))
        self._pages, self.early = dict(pages), set(early)
        self._moved.clear()
        self.begin_round()


def _addresses(page: int) -> range:
    return range(page << PAGE_BITS, (page + 1) << PAGE_BITS)


class CellsBefore:
    """The same memory as it stood in the settled round before."""

    def __init__(self, now: Cells) -> None:
        self.now = now

    def __getitem__(self, address: int) -> Any:
        return self.peek(address)

    def peek(self, address: int) -> Any:
        now = self.now
        if address in now.undo:
            old = now.undo[address]
            return old if old is not None else self._first(address)
        if now.lost and not now.was_lost:
            return self._first(address)
        return now.peek(address)

    def _first(self, address: int) -> Any:
        return UNKNOWN if self.now.was_lost else self.now.power_up(address)
