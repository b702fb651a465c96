"""What somebody wants to see while whole clocks run by."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.netlist import NetId


@dataclass(frozen=True)
class Watch:
    """Clocks run by as long as none of ``changing`` changes and no condition (nets, number) comes true, at the end of
    any tick. ``counted``: nets of an address of which it is counted, once a clock, how often it comes to be one of
    ``starts``, as its bits are all carried."""

    changing: tuple[NetId, ...] = ()
    conditions: tuple[tuple[tuple[NetId, ...], int], ...] = ()
    counted: tuple[NetId, ...] = ()
    starts: frozenset[int] = frozenset()

    def table(self) -> bytes:
        """A byte for each address: 1 where it counts."""
        return bytes(address in self.starts for address in range(1 << len(self.counted)))
