"""When registers, latches and memories take something, and from what, in many situations at once.

Situations come in pairs, the low level of the clock before the high one, where the clock matters at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from latchwork.analysis.lanes import Bit, Lanes, repeated
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


def taking_lanes(lanes: Lanes, taking: Taking, count: int) -> int:
    """Lanes in which the chip may take what stands there then. ``count``: situations, which are pairs of clock levels
    (an odd number: no clock), in every choice."""
    level = control_level(lanes, taking)
    if taking.clock is None:
        return level.one
    choices = lanes.all.bit_length() // count
    low = repeated(_every_second(count), count, choices) if count % 2 == 0 else 0
    rises = low & level.zero & level.one >> 1
    falls = low << 1 & level.zero & level.one << 1
    moves = low & ((level.one ^ level.one >> 1) | (level.zero ^ level.zero >> 1))
    if moves or not low:
        return (rises | falls) if low else level.zero
    return level.zero if level.one else 0


def _every_second(count: int) -> int:
    return ((1 << count) - 1) // 3


def every_clock(lanes: Lanes, taking: Taking, count: int) -> bool:
    """Whether it takes something new at every clock, whatever the control word says."""
    if taking.clock is None or taking.can_hold:
        return False
    choices = lanes.all.bit_length() // count
    low = repeated(_every_second(count), count, choices) if count % 2 == 0 else lanes.all
    taken = taking_lanes(lanes, taking, count)
    return low & taken == low or low << 1 & taken == low << 1
