"""What registers hold after an edge of the main clock, from the levels settled before it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from latchwork.analysis.cones import Cone, expression_cone
from latchwork.analysis.lanes import Lanes, choose
from latchwork.analysis.settle import Combinational, Settling, StateBit, running
from latchwork.netlist import NetId
from latchwork.parts import Register


class Edge:
    """An edge of ``clock`` in ``width`` cases. A clock that may be held back by something unknown is taken to run:
    what is said here is said of a machine that is not halted. Start-up timers have run out."""

    def __init__(
        self,
        whole: Combinational,
        width: int,
        given: Mapping[NetId, Lanes],
        states: Mapping[StateBit, Lanes],
        clock: NetId,
        *,
        rising: bool = True,
        reset: bool = False,
    ) -> None:
        full = (1 << width) - 1
        levels = [(0, full), (full, 0)] if rising else [(full, 0), (0, full)]
        known = {**started(whole, full, reset), **states}
        self.whole = whole
        self.full = full
        self.before, self.after = (Settling(whole, width, {**given, clock: level}, known) for level in levels)

    def next(self, at: StateBit) -> Lanes:
        """The state's bit after the edge."""
        item = self.whole.held.get((at.chip, at.state))
        if not isinstance(item, Register):
            return self.after.state(at)
        result = self.before.state(at)
        for update in reversed(item.updates):
            data = self.before.expression(at.chip, lambda inside, data=update.data: inside.bit(data, at.bit))  # type: ignore[misc]
            result = choose(self._triggered(at, update.clock), data, result)
        return self.before.expression(at.chip, lambda inside: self.before.levelled(inside, item, at.bit, result))

    def _triggered(self, at: StateBit, clock: object) -> Lanes:
        """1 where the clock may rise, 0 where it surely does not."""
        before, after = (
            settling.expression(at.chip, lambda inside: inside.bit(clock))  # type: ignore[arg-type]
            for settling in (self.before, self.after)
        )
        never = before[0] | after[1]
        return self.full & ~never, never


def started(whole: Combinational, full: int, reset: bool = False) -> dict[StateBit, Lanes]:
    """The start-up timers, run out, or while they hold the machine in reset."""
    timers = running(whole.netlist, reset)
    return {StateBit(chip, name, 0): ((full, 0) if value else (0, full)) for (chip, name), (value, _) in timers.items()}


def edge_of(whole: Combinational, at: StateBit, clock: NetId) -> str:
    """ "rise" or "fall": the edge of ``clock`` at which a register takes its data; "" where it follows no edge."""
    if not isinstance(whole.held.get((at.chip, at.state)), Register):
        return ""
    item = whole.held[at.chip, at.state]
    assert isinstance(item, Register)
    clocks = [(update.clock, 0) for update in item.updates]
    if clock not in expression_cone(whole, at.chip, clocks, (clock,)).nets:
        return ""
    for rising in (True, False):
        edge = Edge(whole, 1, {}, {}, clock, rising=rising)
        if any(edge._triggered(at, update.clock)[0] for update in item.updates):
            return "rise" if rising else "fall"
    return ""


def next_cone(whole: Combinational, at: StateBit, cuts: Iterable[NetId]) -> Cone:
    """What a register's next value depends on, its clock aside."""
    item = whole.held.get((at.chip, at.state))
    if item is None:
        return expression_cone(whole, at.chip, ())
    bits = [(level.active, 0) for level in item.levels] + [(level.value, at.bit) for level in item.levels]
    if isinstance(item, Register):
        bits += [(update.data, at.bit) for update in item.updates]
    else:
        bits += [(item.enable, 0), (item.data, at.bit)]
    return expression_cone(whole, at.chip, bits, tuple(cuts))
