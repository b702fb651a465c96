"""Mistakes that an engine might have, each put into the compiled engine by replacing one function of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from latchwork.engines.compiled import engine, folding, handover, program, specialise, ways
from latchwork.engines.compiled.clock_form import OneClock
from latchwork.engines.compiled.code import Code
from latchwork.engines.compiled.emit import CELL, Emitter
from latchwork.engines.compiled.folding import Folder
from latchwork.engines.compiled.general import General
from latchwork.engines.compiled.hot import Hot
from latchwork.engines.compiled.hot_clocks import HotClocks
from latchwork.engines.compiled.pool import Pool, number
from latchwork.engines.compiled.settling import Settling
from latchwork.engines.compiled.shared_cells import SharedCells
from latchwork.engines.compiled.stepping import Stepper
from latchwork.engines.compiled.timing import Timing
from latchwork.engines.compiled.turning import Turning
from latchwork.engines.compiled.ways import Fork, Ways
from latchwork.engines.compiled.words import Word
from latchwork.engines.devices import Attachments
from latchwork.engines.oracle.known import ZERO
from latchwork.logic import Operation

Bug = tuple[Any, str, Callable[[Any], Any]]
"""Where a function stands, its name, and what makes the wrong one of the right one."""


def wrong_swap(right: Any) -> Any:
    return lambda self, select, yes, no: right(
        self, select, *((no, yes) if select.operation is Operation.NOT else (yes, no))
    )


def without_constants(right: Any) -> Any:
    def add(self: Pool, *args: Any) -> Any:
        kept = [arg for arg in args if arg.operation is not Operation.CONSTANT]
        return right(self, *(kept or args))

    return add


def stale_loop(right: Any) -> Any:
    def loop(self: Emitter, step: Any) -> None:
        right(self, step)
        self.troubles.clear()
        for name, start in zip(step.final, step.start, strict=True):
            self.bind(name, self.value(start))

    return loop


def unbound_write(right: Any) -> Any:
    return lambda self, chip, store, write: replace(right(self, chip, store, write), when=self.pool.constant(0))


def moved_write(right: Any) -> Any:
    def write(self: Stepper, *args: Any) -> Any:
        found = right(self, *args)
        return replace(found, address=self.pool.differ(found.address, self.pool.constant(1, found.address.width)))

    return write


def transparent(right: Any) -> Any:
    def latch(self: Stepper, chip: int, row: Any) -> None:
        right(self, chip, replace(row, levels=()))

    return latch


def early_clock(right: Any) -> Any:
    def count(self: General, b: Any, clock: Any) -> None:
        right(self, b, b.xor(clock, CELL(3)))

    return count


def without_asks(right: Any) -> Any:
    def timer(self: Stepper, *args: Any) -> None:
        right(self, *args)
        self.round.asks.clear()

    return timer


def without_keepers(right: Any) -> Any:
    def to_oracle(oracle: Any, plan: Any, cells: Any, show: Any) -> None:
        for keeper in range(plan.shape.kept):
            cells[plan.shape.cell("kept", keeper)] ^= 1
        right(oracle, plan, cells, show)

    return to_oracle


def pulse_ends_at_first(right: Any) -> Any:
    def events(self: Timing, code: Code) -> None:
        for pulse in self._oracle._pulses.values():
            pulse.end = lambda serial, held: ZERO  # type: ignore[method-assign]
        try:
            right(self, code)
        finally:
            for pulse in self._oracle._pulses.values():
                del pulse.end  # type: ignore[method-assign]

    return events


def always(value: Callable[..., Any]) -> Callable[[Any], Any]:
    return lambda right: value


def constant(value: int) -> Callable[[Any], Any]:
    return lambda right: lambda self, *args, **named: self.pool.constant(value)


BUGS: dict[str, Bug] = {
    "a mux on an inverted bit is not turned round": (Pool, "choose", wrong_swap),
    "constants are left out of sums": (Pool, "add", without_constants),
    "what stands twice in an exclusive or stays": (Pool, "differ", lambda right: lambda self, *args: right(
        self, *dict.fromkeys(args))),
    "a repeated constant is one bit": (Pool, "repeat", lambda right: lambda self, bit, width: self.constant(
        number(bit), width) if bit.operation is Operation.CONSTANT else right(self, bit, width)),
    "equal bits differ": (Pool, "equal", lambda right: lambda self, a, b: self.invert(right(self, a, b))),
    "any bit is the lowest": (Pool, "any_bit", always(lambda self, a: self.slice(a, 0, 1))),
    "joined words are turned round": (Pool, "join", lambda right: lambda self, *args: right(self, *args[::-1])),
    "a slice is one bit too low": (Pool, "slice", lambda right: lambda self, a, low, width: right(
        self, a, max(low - 1, 0), width)),
    "or is and": (Pool, "either", lambda right: Pool.both),
    "a level is taken for an edge": (Stepper, "_sense", lambda right: lambda self, *args: (
        self.pool.constant(0), right(self, *args)[1])),
    "an edge is lost": (Stepper, "_sense", lambda right: lambda self, *args: (
        self.pool.constant(1), right(self, *args)[1])),
    "data are taken after the edge": (Stepper, "_memo", lambda right: lambda self, now: (right(self, now), now)[1]),
    "levels are ignored": (Stepper, "_levels", lambda right: lambda self, chip, levels: (
        [self.pool.constant(0) for _ in right(self, chip, levels)[0]], right(self, chip, ())[1] or [
            self._value(chip, level.value) for level in levels])),
    "the last of several conditions counts": (Stepper, "_first", lambda right: lambda self, a, b, other: right(
        self, a[::-1], b[::-1], other)),
    "a latch is not cleared": (Stepper, "_latch", transparent),
    "a write is lost": (Stepper, "_write", unbound_write),
    "a write goes beside its cell": (Stepper, "_write", moved_write),
    "floating inputs are not reported": (Stepper, "_floats", constant(0)),
    "timers are not asked for": (Stepper, "_timer", without_asks),
    "the seed is not asked": (Settling, "_choice", always(lambda self, word: 0)),
    "pulls do nothing": (Settling, "_without_keepers", lambda right: lambda self, *args: self._strong(*args)),
    "keepers do nothing": (Settling, "_resolved", lambda right: lambda self, *args: self._without_keepers(*args)),
    "keepers never change": (Settling, "after_keeping", always(lambda self, keeper: self.sources.kept(keeper))),
    "early reads are not seen": (Settling, "_early_reads", always(lambda self, *args: [])),
    "fights are not seen": (Settling, "fights", always(lambda self: [])),
    "open inputs never read high": (Settling, "_read", lambda right: lambda self, net, high, scope: right(
        self, net, False, scope)),
    "a loop keeps its old words": (Emitter, "loop", stale_loop),
    "a memory is read beside the address": (Emitter, "read", lambda right: lambda self, memory, address, width: right(
        self, memory, self.builder.xor(address, address.type(1)), width)),
    "the clock counts at its other edge": (General, "_count", early_clock),
    "keepers are handed over wrong": (engine, "to_oracle", without_keepers),
    "the first end of a pulse counts": (Timing, "apply_next", pulse_ends_at_first),
    "nets with different pulls are one word": (Word, "follows", lambda right: lambda self, other, split: right(
        replace(self, pulls=other.pulls), other, split)),
    "a second round of a clock is not looked at": (OneClock, "_nothing_changes", always(lambda self, *args: None)),
    "short pulses within a clock are not seen": (OneClock, "_no_short_pulse", always(lambda self, *args: None)),
    "half a clock is lost": (Turning, "passed", lambda right: lambda self, turns: right(self, turns - turns % 2)),
    "an edge that a device waits for runs by": (OneClock, "_comes", constant(0)),
    "a driver of a device is always on": (program, "_outside", lambda right: lambda layout, pool, *bits: (
        pool.invert(right(layout, pool, *bits)[1]), right(layout, pool, *bits)[1])),
    "what devices saw last is old": (Attachments, "looked", always(lambda self: None)),
    "memories are not taken back": (SharedCells, "restore", always(lambda self, saved: None)),
}  # fmt: skip


def other_side(node: Any, select: int) -> Any:
    """The side of a choice that is not chosen."""
    return node.args[2] if select else node.args[1]


def lost_states(right: Any) -> Any:
    return lambda self, b, name, value: None if name in self.ways.moving else right(self, b, name, value)


def wrong_bit(right: Any) -> Any:
    def read(self: Folder, node: Any, address: Any) -> Any:
        found = right(self, node, address)
        return self.pool.constant(number(found) ^ 1, found.width) if folding._constant(found) else found

    return read


HOT_BUGS: dict[str, Bug] = {
    "of a known select the other side is taken": (folding, "_chosen", lambda right: lambda node, select: (
        other_side(node, select) if node.operation is Operation.MUX else right(node, select))),
    "a gate is its first argument": (Folder, "_gate", always(lambda self, node: self._done[node.args[0]])),
    "words of fixed memories have a wrong bit": (Folder, "_read", wrong_bit),
    "open bits of an address are taken for low": (folding, "_open_bits", always(lambda pool, address: [])),
    "guards of a state are left out": (specialise._Special, "form", lambda right: lambda self: replace(
        right(self), guards=())),
    "the next state is not stored": (Hot, "_store", lost_states),
    "a fork goes the other way": (Fork, "way", lambda right: lambda self, value: right(self, value ^ 1)),
    "what is assumed is not so": (ways, "assume", lambda right: lambda pool, node, value, known: right(
        pool, node, value ^ 1, known)),
    "memories written by hand are not noticed": (HotClocks, "check", always(lambda self: None)),
    "every state is like the first": (Ways, "like", lambda right: lambda self, state: right(
        self, next(iter(self._same), state))),
}  # fmt: skip

assert handover.to_oracle is engine.to_oracle
