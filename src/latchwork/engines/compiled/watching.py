"""What somebody wants to see while whole clocks run by."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from latchwork import devices
from latchwork.netlist import NetId

NOWHERE = 1 << 63


class Count(NamedTuple):
    """How often an instruction began, whether the last address looked at was such, the addresses of the last clock
    and the one before, and what the noted nets carried when it last began, ``NOWHERE`` before that."""

    begun: int
    at_start: bool
    looked_up: int
    looking_up: int
    noted: int = NOWHERE


@dataclass(frozen=True)
class Watch:
    """Clocks run by as long as none of ``changing`` changes and no condition (nets, number) comes true, at the end of
    any tick. ``counted``: nets of an address of which it is counted, once a clock, how often it comes to be one of
    ``starts``; with ``delayed`` the address of the clock before is looked at. A clock with an address that is not
    carried is not run by. ``edges``: of nets, as devices watch for them. ``noted``: nets whose number is kept when one
    of ``starts`` is come to."""

    changing: tuple[NetId, ...] = ()
    conditions: tuple[tuple[tuple[NetId, ...], int], ...] = ()
    counted: tuple[NetId, ...] = ()
    starts: frozenset[int] = frozenset()
    delayed: bool = False
    edges: tuple[devices.Watch, ...] = ()
    noted: tuple[NetId, ...] = ()

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.changing, self.conditions, self.counted, self.starts, self.delayed, self.edges, self.noted))

    def table(self) -> bytes:
        """A byte for each address: 1 where it counts."""
        return bytes(address in self.starts for address in range(1 << len(self.counted)))
