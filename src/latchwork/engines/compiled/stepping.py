"""One round, as expressions: what is looked at, what it proposes, and what calls for a closer look.

Everything that a round needs of the one before is a *remembered* expression: clocks, strobes and enables (senses),
data of clocked updates, addresses of level writes. They are listed in one fixed order, the same for every round of
one machine.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.settling import Settling
from latchwork.engines.compiled.taint import touched
from latchwork.logic import Expression
from latchwork.netlist import ChipId
from latchwork.parts import Floating, Latch, Memory, Register, Timer, TimerKind
from latchwork.parts.behaviour import Level, Write


@dataclass(frozen=True)
class StoreWrite:
    """Where ``when``, ``data`` goes to ``address`` of a memory."""

    store: int
    when: Expression
    address: Expression
    data: Expression


@dataclass(frozen=True)
class Ask:
    """Where ``when``, the timer asks to be called after its time; with ``value``. ``sent``: it is a delay, and this
    is the number of its remembered last value."""

    slot: int
    when: Expression
    value: Expression


@dataclass
class Round:
    """``senses`` and ``memos`` are remembered for the next round, each in its order. ``slots``: next values by slot;
    ``troubles``: reasons to have the oracle do this tick."""

    senses: list[Expression] = field(default_factory=list)
    memos: list[Expression] = field(default_factory=list)
    slots: dict[int, Expression] = field(default_factory=dict)
    writes: list[StoreWrite] = field(default_factory=list)
    asks: list[Ask] = field(default_factory=list)
    troubles: list[Expression] = field(default_factory=list)


Remembered = Callable[[int, int], Expression]
"""A sense or memo of the round before, by number and width."""


class Stepper:
    """``was`` and ``memo``: what the round before remembered, None where nobody will ask for what happens.

    ``derived``: 1 in each round of a tick but its first, where a clock edge is a derived one.
    """

    def __init__(
        self,
        settling: Settling,
        was: Remembered,
        memo: Remembered,
        derived: Expression,
    ) -> None:
        self.settling = settling
        self.pool: Pool = settling.pool
        self.wiring = settling.layout.wiring
        self.was = was
        self.memo = memo
        self.derived = derived
        self.round = Round()
        for chip in range(len(self.wiring.netlist.chips)):
            self._chip(chip)
        self.round.troubles += settling.traps

    def _chip(self, chip: ChipId) -> None:
        behaviour = self.wiring.netlist.part_of(chip).behaviour
        for register in behaviour.registers:
            self._register(chip, register)
        for latch in behaviour.latches:
            self._latch(chip, latch)
        for memory in behaviour.memories:
            if memory.writes:
                self._memory(chip, memory)
        for timer in behaviour.timers:
            if timer.kind in (TimerKind.PULSE, TimerKind.DELAY):
                self._timer(chip, timer)

    # Remembering

    def _value(self, chip: ChipId, expression: Expression) -> Expression:
        self.round.troubles += self.settling.early_reads(chip, expression)
        return self.settling.evaluate(chip, expression)

    def _sense(self, chip: ChipId, expression: Expression) -> tuple[Expression, Expression]:
        """A sense in the round before, and now."""
        now = self._value(chip, expression)
        was = self.was(len(self.round.senses), 1)
        self.round.senses.append(now)
        return was, now

    def _memo(self, now: Expression) -> Expression:
        """Have a value remembered; what it was in the round before."""
        was = self.memo(len(self.round.memos), now.width)
        self.round.memos.append(now)
        return was

    def _floats(self, chip: ChipId, expression: Expression) -> Expression:
        """Whether a value may hang on nets that nothing drives."""
        settling, pool = self.settling, self.pool
        if self.wiring.netlist.part_of(chip).floating is Floating.HIGH:
            return pool.constant(0)

        def value(node: Expression) -> Expression:
            return settling.evaluate(chip, node)

        return pool.any_bit(touched(pool, expression, value, settling.open_bits(chip)))

    # Elements

    def _levels(self, chip: ChipId, levels: tuple[Level, ...]) -> tuple[list[Expression], list[Expression]]:
        """Which levels are active, and their values."""
        active = [self._sense(chip, level.active)[1] for level in levels]
        return active, [self._value(chip, level.value) for level in levels]

    def _register(self, chip: ChipId, register: Register) -> None:
        pool, slot = self.pool, self.wiring.slot_named[chip, register.name]
        held = self.settling.sources.slot(slot)
        edges = []
        for update in register.updates:
            was, now = self._sense(chip, update.clock)
            edges.append(pool.both(now, pool.invert(was)))
        active, values = self._levels(chip, register.levels)
        quiet = pool.both(pool.constant(1), *map(pool.invert, active))
        conditions, choices = list(active), list(values)
        for update, edge in zip(register.updates, edges, strict=True):
            data = self._value(chip, update.data)
            before, floated = self._memo(data), self._memo(self._floats(chip, update.data))
            rises = pool.both(edge, quiet)
            self.round.troubles.append(pool.both(rises, floated))
            self.round.troubles.append(pool.both(self.derived, rises, pool.unequal(data, before)))
            quiet = pool.both(quiet, pool.invert(edge))
            conditions.append(edge)
            choices.append(before)
        self.round.slots[slot] = self._first(conditions, choices, held)

    def _first(self, conditions: list[Expression], values: list[Expression], otherwise: Expression) -> Expression:
        result = otherwise
        for condition, value in zip(reversed(conditions), reversed(values), strict=True):
            result = self.pool.choose(condition, value, result)
        return result

    def _latch(self, chip: ChipId, latch: Latch) -> None:
        slot = self.wiring.slot_named[chip, latch.name]
        _, enable = self._sense(chip, latch.enable)
        active, values = self._levels(chip, latch.levels)
        data = self._value(chip, latch.data)
        held = self.settling.sources.slot(slot)
        self.round.slots[slot] = self._first([*active, enable], [*values, data], held)

    def _memory(self, chip: ChipId, memory: Memory) -> None:
        store = self.wiring.store_named[chip, memory.name]
        for write in memory.writes:
            self.round.writes.append(self._write(chip, store, write))

    def _write(self, chip: ChipId, store: int, write: Write) -> StoreWrite:
        pool, troubles = self.pool, self.round.troubles
        was, now = self._sense(chip, write.strobe)
        address, data = self._value(chip, write.address), self._value(chip, write.data)
        floats = pool.either(self._floats(chip, write.address), self._floats(chip, write.data))
        address_was = self._memo(address)
        if not write.clocked:
            troubles.append(pool.both(was, now, pool.unequal(address, address_was)))
            troubles.append(pool.both(now, floats))
            return StoreWrite(store, now, address, data)
        data_was, floated = self._memo(data), self._memo(floats)
        rises = pool.both(now, pool.invert(was))
        troubles.append(pool.both(rises, floated))
        return StoreWrite(store, rises, address_was, data_was)

    def _timer(self, chip: ChipId, timer: Timer) -> None:
        assert timer.trigger is not None
        pool, slot = self.pool, self.wiring.slot_named[chip, timer.name]
        was, now = self._sense(chip, timer.trigger)
        if timer.kind is TimerKind.PULSE:
            rises = pool.both(now, pool.invert(was))
            self.round.asks.append(Ask(slot, rises, pool.constant(1)))
            self.round.slots[slot] = pool.choose(rises, pool.constant(1), self.settling.sources.slot(slot))
        else:
            sent = self._memo(now)
            self.round.asks.append(Ask(slot, pool.differ(now, sent), now))
