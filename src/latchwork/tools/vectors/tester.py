"""What a tester has to know of a part: which pins it sets, which it watches, which it must move one at a time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.one_part.faults import open_collector
from latchwork.analysis.one_part.program import pins_read
from latchwork.logic import Expression
from latchwork.parts import Behaviour, Direction, Part, TieKind
from latchwork.problems import LatchworkError, Problem
from latchwork.reports.vectors import VectorPin

ROLES = {
    Direction.INPUT: "in",
    Direction.OUTPUT: "out",
    Direction.BOTH: "both",
    Direction.SUPPLY: "supply",
    Direction.GROUND: "ground",
}


@dataclass(frozen=True)
class Socket:
    """``part`` in the tester's socket. Pins are indices in the part's ``pins``."""

    part: Part

    @cached_property
    def inputs(self) -> list[int]:
        """Pins that the tester always sets."""
        return [index for index, pin in enumerate(self.part.pins) if pin.direction is Direction.INPUT]

    @cached_property
    def shared(self) -> list[int]:
        """Pins that the tester sets where the part lets go."""
        return [index for index, pin in enumerate(self.part.pins) if pin.direction is Direction.BOTH]

    @cached_property
    def outputs(self) -> list[int]:
        """Pins that the part drives and the tester never does."""
        return [index for index, pin in enumerate(self.part.pins) if pin.direction is Direction.OUTPUT]

    @cached_property
    def pulled_up(self) -> set[int]:
        return open_collector(self.part)

    @cached_property
    def careful(self) -> list[int]:
        """Inputs that clock, open, overwrite or write what the part keeps."""
        read = pins_read(self.part, acting(self.part.behaviour))
        return [pin for pin in self.inputs if pin in read]

    @property
    def keeps_state(self) -> bool:
        behaviour = self.part.behaviour
        return bool(behaviour.registers or behaviour.latches or behaviour.memories)

    def described(self) -> tuple[VectorPin, ...]:
        return tuple(
            VectorPin(
                pin.number,
                pin.sheet,
                "pull-up" if index in self.pulled_up else ROLES.get(pin.direction, "none"),
                index in self.careful,
            )
            for index, pin in enumerate(self.part.pins)
        )


def acting(behaviour: Behaviour) -> Iterator[Expression]:
    """Expressions that make something kept change when they do."""
    for register in behaviour.registers:
        yield from (update.clock for update in register.updates)
    yield from (latch.enable for latch in behaviour.latches)
    for levels in (*(each.levels for each in behaviour.registers), *(each.levels for each in behaviour.latches)):
        yield from (level.active for level in levels)
    for memory in behaviour.memories:
        yield from (write.strobe for write in memory.writes)


def checked(part: Part) -> Socket:
    """The part in a tester's socket. Raises LatchworkError for one that such a test does not suit."""
    behaviour = part.behaviour
    switched = any(tie.kind is TieKind.SWITCH for tie in behaviour.ties)
    if not behaviour.drives or switched or behaviour.keepers:
        raise _unsuited(part, "drives no pin by logic", "look at it with a meter")
    if behaviour.timers:
        raise _unsuited(part, "answers in its own time", "a test that sets levels and looks at once can't judge it")
    if any(not memory.writes for memory in behaviour.memories):
        raise _unsuited(part, "shows what was burned into it", 'compare it with its image: "latchwork verify"')
    return Socket(part)


def _unsuited(part: Part, reason: str, hint: str) -> LatchworkError:
    return LatchworkError(Problem("C121", f"{part.name} has no vectors: it {reason}", help=hint))
