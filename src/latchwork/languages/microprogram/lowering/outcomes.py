"""Where the wiring leads from a row: on to the next micro-address, back to the first, nowhere, or by the opcode."""

from __future__ import annotations

from collections.abc import Sequence

from latchwork.analysis.edges import next_cone
from latchwork.analysis.lanes import Lanes, variables
from latchwork.analysis.store import Role
from latchwork.languages.microprogram.lowering.context import Context, in_lanes
from latchwork.languages.microprogram.lowering.rows import PlacedRow

ON, HOME, STAY, DISPATCH, LOST = "on", "home", "stay", "dispatch", "lost"
Pair = tuple[PlacedRow, PlacedRow]
"""A row, and the row before it."""


class Outcomes:
    """``start`` is the first micro-address; ``sample`` one from which on, home and staying can be told apart."""

    def __init__(self, context: Context, start: int) -> None:
        self.context = context
        self.start = start
        self.following = context.following or {}
        self.sample = next(
            (n for n in sorted(self.following) if len({n, self.following[n], start}) == 3),
            next(iter(self.following), 0),
        )

    def roles(self) -> list[Role]:
        """Conditions, the interrupt and opcode bits on which the next micro-address hangs."""
        store = self.context.store
        found: set[Role] = set()
        for state in self.context.sequencer.states:
            cone = next_cone(store.whole, state, store.named)
            found |= {store.named[net] for net in cone.nets}
            found |= {store.state_role(at)[0] for at in cone.states}
        return sorted(role for role in found if role.kind in ("condition", "interrupt", "opcode"))

    def of(self, pairs: Sequence[Pair]) -> list[set[str]]:
        """For each pair what may happen after it, over all levels of the conditions."""
        roles = self.roles()
        each = 1 << len(roles)
        width = len(pairs) * each
        if not width:
            return []
        outside = _repeated(roles, len(pairs))
        rows = [pair for pair in pairs for _ in range(each)]
        moved = [self._moved(rows, outside, level, width) for level in (0, 1)]
        found: list[set[str]] = [set() for _ in pairs]
        for lane in range(width):
            found[lane // each].add(self._told(moved[0], moved[1], lane))
        return found

    def _moved(self, pairs: Sequence[Pair], outside: dict[Role, Lanes], decoded: int, width: int) -> list[Lanes]:
        context, nets = self.context, self.context.lines.reached
        words, before = (in_lanes([pair[place] for pair in pairs], nets) for place in (0, 1))
        full = (1 << width) - 1
        decode = dict.fromkeys(context.store.decode_nets, (full, 0) if decoded else (0, full))
        states = context.states_in_lanes([self.sample] * width)
        moved = context.sequencer.step(width, states, words, before, outside=outside, decode=decode)
        return [moved[state] for state in context.order]

    def _told(self, low: Sequence[Lanes], high: Sequence[Lanes], lane: int) -> str:
        levels = [_level(bit, lane) for bit in low]
        if levels != [_level(bit, lane) for bit in high]:
            return DISPATCH
        if None in levels:
            return LOST
        number = sum((level or 0) << bit for bit, level in enumerate(levels))
        names = {self.following[self.sample]: ON, self.start: HOME, self.sample: STAY}
        return names.get(number, LOST)


def _level(bit: Lanes, lane: int) -> int | None:
    ones, zeros = bit[0] >> lane & 1, bit[1] >> lane & 1
    return ones if ones | zeros else None


def _repeated(roles: Sequence[Role], times: int) -> dict[Role, Lanes]:
    """All levels of the roles, again for each of ``times`` rows."""
    each = 1 << len(roles)
    unit = sum(1 << each * time for time in range(times))
    return {role: (ones * unit, zeros * unit) for role, (ones, zeros) in zip(roles, variables(len(roles)), strict=True)}
