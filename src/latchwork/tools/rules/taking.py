"""When registers, latches and memories take something, and from what, in many situations at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from latchwork.analysis.control_words import Situation
from latchwork.analysis.levels import Bit, Lanes, repeated
from latchwork.logic import Expression, Operation
from latchwork.netlist import ChipId
from latchwork.parts import Behaviour


class Taking(NamedTuple):
    """A chip takes ``data`` while ``level`` is 1, or at the rising edge of ``clock``; one of the two is None. ``own``
    is the name of the state, "" for a memory."""

    chip: ChipId
    own: str
    data: tuple[Expression, ...]
    clock: Expression | None = None
    level: Expression | None = None

    @property
    def control(self) -> Expression:
        found = self.level if self.clock is None else self.clock
        assert found is not None
        return found

    @property
    def can_hold(self) -> bool:
        """Whether the data is sometimes what the state holds already."""
        return any(_speaks_of(data, self.own) for data in self.data)


def _speaks_of(expression: Expression, name: str) -> bool:
    if expression.operation is Operation.VARIABLE:
        return expression.data == name
    return any(_speaks_of(argument, name) for argument in expression.args)


def takings(chip: ChipId, behaviour: Behaviour) -> Iterator[Taking]:
    """Every way in which a chip takes something."""
    for register in behaviour.registers:
        for update in register.updates:
            yield Taking(chip, register.name, (update.data,), clock=update.clock)
    for latch in behaviour.latches:
        yield Taking(chip, latch.name, (latch.data,), level=latch.enable)
    for memory in behaviour.memories:
        for write in memory.writes:
            parts = (write.data, write.address)
            yield Taking(
                chip,
                "",
                parts,
                clock=write.strobe if write.clocked else None,
                level=None if write.clocked else write.strobe,
            )


def control_level(lanes: Lanes, taking: Taking) -> Bit:
    return lanes.bit(taking.chip, taking.control, 0)


@dataclass(frozen=True)
class Pairs:
    """How lanes are laid out: ``count`` situations in every choice; ``clocked``: they are pairs, the low level of the
    clock before the high one."""

    count: int
    clocked: bool

    def low(self, lanes: Lanes) -> int:
        """The lanes in which the clock is low; all where it has nothing to do with it."""
        if not self.clocked:
            return lanes.all
        return repeated(((1 << self.count) - 1) // 3, self.count, lanes.all.bit_length() // self.count)


def pairs_of(situations: Sequence[Situation]) -> Pairs:
    return Pairs(len(situations), any(item.clock >= 0 for item in situations))


def taking_lanes(lanes: Lanes, taking: Taking, pairs: Pairs) -> int:
    """Lanes in which the chip may take what stands there then: at the end of a level of the clock, or of a step."""
    level = control_level(lanes, taking)
    if taking.clock is None:
        return level.one
    ends = _clock_edges(level, pairs.low(lanes)) if pairs.clocked else 0
    return ends if ends or not level.one or _moves(level, pairs.low(lanes), pairs) else level.zero


def _clock_edges(level: Bit, low: int) -> int:
    """Lanes after which the level may rise with the clock or against it."""
    return (low & level.zero & level.one >> 1) | (low << 1 & level.zero & level.one << 1)


def _moves(level: Bit, low: int, pairs: Pairs) -> bool:
    """Whether the clock's level makes a difference anywhere."""
    return pairs.clocked and bool(low & ((level.one ^ level.one >> 1) | (level.zero ^ level.zero >> 1)))


def every_clock(lanes: Lanes, taking: Taking, pairs: Pairs) -> bool:
    """Whether it takes something new at every clock, whatever the control word says."""
    if taking.clock is None or taking.can_hold or not pairs.clocked:
        return False
    low, taken = pairs.low(lanes), taking_lanes(lanes, taking, pairs)
    return low & taken == low or low << 1 & taken == low << 1
