"""How one-shots are written with pulse timers: one that a reset ends, and one that ignores triggers while it runs."""

from __future__ import annotations

from latchwork.logic import Expression, constant, variable
from latchwork.parts import Level, Register, Timer, TimerKind, Update


def retriggered(name: str, edge: Expression, reset: Expression, time: str) -> tuple[Register, Timer]:
    """A pulse from each rise of ``edge``, the last one counting; ``reset`` ends it. Its level is ``running(name)``."""
    cut = Register(f"{name}_cut", 1, (Update(edge, constant(0)),), (Level(reset, constant(1)),))
    return cut, Timer(name, TimerKind.PULSE, edge, time)


def running(name: str) -> Expression:
    """Whether the pulse is on."""
    return variable(name) & ~variable(f"{name}_cut")


def undisturbed(name: str, edge: Expression, reset: Expression, time: str) -> tuple[Register, Register, Timer]:
    """A pulse from a rise of ``edge`` that does not come while one is on; ``reset`` ends it."""
    fire = Register(
        f"{name}_fire",
        1,
        (Update(edge, constant(1)),),
        (Level(reset, constant(0)), Level(running(name), constant(0))),
    )
    cut, timer = retriggered(name, variable(f"{name}_fire"), reset, time)
    return fire, cut, timer
