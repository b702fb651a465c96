"""What a part does: expressions over its ports and states, and the states themselves.

The variables of every expression are *ports* of the part (a pin, or a vector of pins with the lowest bit first)
and *states* (registers, latches, timers) by name; a memory is read with ``logic.read``. How states change in
rounds is said in docs/semantics.md and defined by the oracle.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from latchwork.logic import Expression


class OutputKind(Enum):
    PUSH_PULL = "push-pull"
    THREE_STATE = "three-state"
    OPEN_COLLECTOR = "open-collector"


@dataclass(frozen=True)
class Drive:
    """What the part puts on the pins of ``port``.

    ``value`` is as wide as the port. ``enable`` is one bit for the whole port and only stands with three-state
    outputs. An open-collector output pulls its pin low where ``value`` is 0 and lets it go where it is 1.
    """

    port: str
    value: Expression
    enable: Expression | None = None
    kind: OutputKind = OutputKind.PUSH_PULL


@dataclass(frozen=True)
class Update:
    """At a rising edge of ``clock`` (an expression of one bit; invert it for a falling edge) take ``data``."""

    clock: Expression
    data: Expression


@dataclass(frozen=True)
class Level:
    """While ``active`` (one bit) is 1, the state is overwritten with ``value``, whatever a clock does."""

    active: Expression
    value: Expression


@dataclass(frozen=True)
class Register:
    """Edge-triggered state. Where several updates trigger in one round the first counts; so with levels.
    ``wakes``: its value at power-up where the sheet promises one; else it is left to chance."""

    name: str
    width: int
    updates: tuple[Update, ...]
    levels: tuple[Level, ...] = ()
    wakes: int | None = None


@dataclass(frozen=True)
class Latch:
    """Transparent while ``enable`` is 1: takes ``data`` in each settled round; holds else."""

    name: str
    width: int
    enable: Expression
    data: Expression
    levels: tuple[Level, ...] = ()


@dataclass(frozen=True)
class Write:
    """A write port. By level: ``strobe`` 1 writes in each settled round. ``clocked``: at its rising edge."""

    strobe: Expression
    address: Expression
    data: Expression
    clocked: bool = False


@dataclass(frozen=True)
class Memory:
    """``2**address_width`` words of ``width`` bits. ``keeps``: contents outlive power (ROM, EEPROM)."""

    name: str
    width: int
    address_width: int
    writes: tuple[Write, ...] = ()
    keeps: bool = False


class TimerKind(Enum):
    OSCILLATOR = "oscillator"  # starts at 0, first rises after half a period
    STARTUP = "startup"  # 0 from power-up, 1 from its time on
    PULSE = "pulse"  # 1 for its time from each rising edge of the trigger; a new edge starts the time again
    DELAY = "delay"  # each change of the trigger arrives its time later
    HAND = "hand"  # set by the person at the bench (hand clock)


@dataclass(frozen=True)
class Timer:
    """A state of one bit that changes by time. ``time``: name of the chip's parameter in picoseconds
    (the period of an oscillator, the duration else)."""

    name: str
    kind: TimerKind
    trigger: Expression | None = None
    time: str = ""


class TieKind(Enum):
    SWITCH = "switch"  # closed or open, set by the person; closed makes one net of two
    RESISTOR = "resistor"  # hands a strong value of one side on as a weak one


@dataclass(frozen=True)
class Tie:
    """Two ports of one bit joined. ``name`` tells the ties of a part apart."""

    name: str
    a: str
    b: str
    kind: TieKind


@dataclass(frozen=True)
class Keeper:
    """Holds the last driven value of its port weakly, weaker than any pull."""

    port: str


@dataclass(frozen=True)
class Behaviour:
    """All that a part does. Names of states are unique in the part and differ from its ports."""

    drives: tuple[Drive, ...] = ()
    registers: tuple[Register, ...] = ()
    latches: tuple[Latch, ...] = ()
    memories: tuple[Memory, ...] = ()
    timers: tuple[Timer, ...] = ()
    ties: tuple[Tie, ...] = ()
    keepers: tuple[Keeper, ...] = ()
