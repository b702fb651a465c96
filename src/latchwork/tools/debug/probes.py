"""What a run may stop at, and what going back may look for: each is asked after every tick.

``prime`` takes the present moment as the one before; ``hit`` tells whether the tick just past is one to stop at.
``looks``: what comes at the latest a clock before each tick at which it may hit, from here on.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from latchwork.engines.looks import EVERYTHING, Looks
from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug.machine import Machine
from latchwork.tools.debug.reader import Condition, Value, condition

MOST_ADDRESSES = 64
"""Of a step that stands at more, every tick is looked at."""


class Probe(Protocol):
    def prime(self) -> None: ...
    def hit(self) -> bool: ...
    def looks(self) -> Looks | None: ...


class Becomes:
    """A condition comes to hold."""

    def __init__(self, wanted: Condition) -> None:
        self._condition = wanted
        self._was = False

    def prime(self) -> None:
        self._was = self._condition.holds()

    def hit(self) -> bool:
        was, self._was = self._was, self._condition.holds()
        return self._was and not was

    def looks(self) -> Looks | None:
        return _looks_at(self._condition)


class Holds:
    """A condition holds, whether or not it held before."""

    def __init__(self, wanted: Condition) -> None:
        self._condition = wanted

    def prime(self) -> None:
        """Nothing to take."""

    def hit(self) -> bool:
        return self._condition.holds()

    def looks(self) -> Looks | None:
        looks = _looks_at(self._condition)
        return EVERYTHING if looks and looks.changing and self._condition.holds() else looks


class Changed:
    """A value is another one than before; unknown is a value too."""

    def __init__(self, value: Value) -> None:
        self._value = value
        self._was: int | None = None

    def prime(self) -> None:
        self._was = self._value()

    def hit(self) -> bool:
        was, self._was = self._was, self._value()
        return was != self._was

    def looks(self) -> Looks | None:
        return self._value.changes


class Began:
    """An instruction began, at an address where one is given."""

    def __init__(self, machine: Machine, address: int | None = None) -> None:
        self._machine = machine
        self._address = address

    def prime(self) -> None:
        """Nothing to take."""

    def hit(self) -> bool:
        return self._machine.begins and self._address in (None, self._machine.instruction_address)

    def looks(self) -> Looks | None:
        space = self._machine.program_space
        if self._address is None or space is None:
            return EVERYTHING
        return Looks(conditions=((space.address, self._address),))


class Step:
    """A row of the microprogram comes to work. ``wanted`` tells of address, block and step whether it is the one."""

    def __init__(self, machine: Machine, wanted: Callable[[int | None, str, int], bool]) -> None:
        self._machine = machine
        self._wanted = wanted
        self._was = False

    def prime(self) -> None:
        self._was = self._now()

    def _now(self) -> bool:
        row = self._machine.microstep
        block, step = (row.block, row.step) if row else ("", -1)
        return self._wanted(self._machine.micro_address, block, step)

    def hit(self) -> bool:
        was, self._was = self._was, self._now()
        return self._was and not was

    def looks(self) -> Looks | None:
        """The addresses of its rows at the control store, from which a row comes to work with the next clock."""
        control = self._machine.model.control
        rows = control.rows if control else ()
        wanted = [at for row in rows for at in row.addresses if self._wanted(at, row.block, row.step)]
        if control is None or len(wanted) > MOST_ADDRESSES:
            return EVERYTHING
        return Looks(conditions=tuple((control.address_nets, at) for at in wanted))


class Access:
    """A cell of an address space is read or written, with a value where one is given."""

    def __init__(self, machine: Machine, place: str, *, written: bool, value: int | None = None) -> None:
        space, address = place_of(machine, place)
        self._accesses = machine.accesses(space)
        self._written = written
        self._address = address
        self._value = value
        self._memory = machine.memory[space]

    def prime(self) -> None:
        self._accesses.prime()

    def hit(self) -> bool:
        self._accesses.sample()
        found = self._accesses.written if self._written else self._accesses.read
        return self._address in found and self._value in (None, self._memory[self._address])

    def looks(self) -> Looks | None:
        conditions = self._accesses.at_pins(self._address)
        return None if conditions is None else Looks(conditions=conditions)


class Trouble:
    """The machine does something that a bench would show as trouble: a fight, a floating read, an oscillation."""

    def __init__(self, machine: Machine, kinds: frozenset[str] = frozenset()) -> None:
        self._machine = machine
        self._kinds = kinds
        self._count = 0

    def prime(self) -> None:
        self._count = self._counted()

    def _counted(self) -> int:
        return sum(each.count for each in self._machine.incidents if not self._kinds or each.kind in self._kinds)

    def hit(self) -> bool:
        before, self._count = self._count, self._counted()
        return self._count > before

    def looks(self) -> Looks | None:
        """Nothing: no clock with trouble runs by."""
        return Looks()


def _looks_at(condition: Condition) -> Looks | None:
    holding = condition.value.holding
    return condition.value.changes if holding is None else Looks(conditions=holding)


def place_of(machine: Machine, text: str) -> tuple[str, int]:
    """``ram[16]``, ``ram[factor]``: name of the space and address. Raises LatchworkError."""
    name, bracket, rest = text.strip().partition("[")
    if not bracket or not rest.endswith("]"):
        hint = "write it as ram[16], with the name of an address space"
        raise LatchworkError(Problem("R504", f'"{text.strip()}" is no cell of a memory', help=hint))
    machine.accesses(name.strip())
    address = condition(machine, rest[:-1]).value()
    size = len(machine.memory[name.strip()])
    if address is None or not 0 <= address < size:
        message = f'"{text.strip()}" lies outside the memory, whose addresses are 0 to {size - 1}'
        raise LatchworkError(Problem("R504", message))
    return name.strip(), address


def value_of(machine: Machine, text: str) -> Value:
    """What ``changed`` looks at: a name, a cell, or any condition's worth."""
    return condition(machine, text).value
