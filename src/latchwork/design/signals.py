"""Nets and buses as machine.py holds them, and the levels it ties pins to."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum, IntEnum
from typing import TYPE_CHECKING, overload

from latchwork.design.mistakes import kind_of, mistake

if TYPE_CHECKING:
    from latchwork.design.draft import Draft


class Level(IntEnum):
    """A rail to tie a pin to, and the level that it has."""

    LOW = 0
    HIGH = 1

    @property
    def described(self) -> str:
        return self.name


class LeftOpen(Enum):
    OPEN = "open"

    @property
    def described(self) -> str:
        return self.name


LOW = Level.LOW
HIGH = Level.HIGH
OPEN = LeftOpen.OPEN


class Net:
    """One net of a machine; made by ``m.net`` and its like."""

    __slots__ = ("draft", "index")

    def __init__(self, draft: Draft, index: int) -> None:
        self.draft = draft
        self.index = index

    @property
    def name(self) -> str:
        return self.draft.nets[self.index].name

    @property
    def described(self) -> str:
        return f'the net "{self.name}"'

    def __add__(self, other: Net | Bus) -> Bus:
        """Side by side, this net as the lowest bit."""
        return Bus(self.draft, (self,)) + other

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Net) and (other.draft, other.index) == (self.draft, self.index)

    def __hash__(self) -> int:
        return hash((id(self.draft), self.index))

    def __repr__(self) -> str:
        return f"<net {self.name}>"


class Bus:
    """Nets side by side, lowest bit first. Slices take the lowest bit first too: ``data[0:4]``."""

    __slots__ = ("draft", "name", "nets")

    def __init__(self, draft: Draft, nets: tuple[Net, ...], name: str = "") -> None:
        self.draft = draft
        self.nets = nets
        self.name = name

    @property
    def described(self) -> str:
        names = self.name or ", ".join(net.name for net in self.nets)
        return f'the bus "{names}" of {len(self.nets)} nets' if self.name else f"a bus of {len(self.nets)} nets"

    def __len__(self) -> int:
        return len(self.nets)

    def __iter__(self) -> Iterator[Net]:
        return iter(self.nets)

    @overload
    def __getitem__(self, index: int) -> Net: ...
    @overload
    def __getitem__(self, index: slice) -> Bus: ...
    def __getitem__(self, index: int | slice) -> Net | Bus:
        if isinstance(index, slice):
            return Bus(self.draft, self._part(index))
        if not isinstance(index, int) or isinstance(index, bool):
            raise mistake("M007", f"a bit of {self.described} is chosen by a number, not by {kind_of(index)}")
        if not -len(self.nets) <= index < len(self.nets):
            raise mistake("M017", f"{self.described} has no bit {index}", help=f"its bits are 0 to {len(self) - 1}")
        return self.nets[index]

    def _part(self, bits: slice) -> tuple[Net, ...]:
        chosen = self.nets[bits]
        outside = any(bound is not None and abs(bound) > len(self.nets) for bound in (bits.start, bits.stop))
        if not chosen or outside:
            wrote = ":".join("" if bound is None else str(bound) for bound in (bits.start, bits.stop))
            hint = "write the lowest bit first and the end excluded: [0:4] is bits 0 to 3"
            raise mistake("M017", f"{self.described} has no bits [{wrote}]", help=hint)
        return chosen

    def __add__(self, other: Net | Bus) -> Bus:
        """Side by side, this bus in the lowest bits."""
        if not isinstance(other, (Net, Bus)):
            raise mistake("M007", f"only a net or a bus is put beside {self.described}, not {kind_of(other)}")
        if other.draft is not self.draft:
            raise mistake("M008", f'{other.described} belongs to another machine, "{other.draft.name}"')
        return Bus(self.draft, self.nets + (other.nets if isinstance(other, Bus) else (other,)))

    def __repr__(self) -> str:
        return f"<bus {self.name or ', '.join(net.name for net in self.nets)}>"
