"""What JK flip-flops have in common: edge-triggered and pulse-triggered ones, with clear and with or without preset.

A pulse-triggered flip-flop is a pair of latches. The master follows J and K all the time that the clock is high,
and can be turned over only once in that time, since J counts only while Q is low and K only while Q is high; the
slave shows the master's state from the falling edge on. So a J or K that is high for a moment is caught and kept.
"""

from __future__ import annotations

from latchwork.logic import Expression, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Latch, Level, Register, Unit, Update

NUMBERS = (1, 2)


def _pin(name: str, number: int, end: str = "") -> Expression:
    return variable(f"{name}{number}{end}")


def levels(number: int, preset: bool) -> tuple[Level, ...]:
    """Clear is named first, so that it wins where both levels end together."""
    clear = Level(~_pin("CLR", number, "_n"), constant(0))
    return (clear, Level(~_pin("PRE", number, "_n"), constant(1))) if preset else (clear,)


def outputs(number: int, held: Expression, preset: bool) -> tuple[Drive, Drive]:
    """Preset reaches Q even while clear holds the state at 0, hence two high outputs while both are low."""
    shown = held | ~_pin("PRE", number, "_n") if preset else held
    return Drive(f"Q{number}", shown), Drive(f"Q{number}_n", ~held)


def next_state(held: Expression, set_it: Expression, keep_it: Expression) -> Expression:
    """``set_it`` counts while the state is 0, ``keep_it`` while it is 1."""
    return mux(held, keep_it, set_it)


def edge_triggered(preset: bool) -> Behaviour:
    """Two flip-flops that look at J and K at the falling edge of their clock."""
    registers: list[Register] = []
    drives: list[Drive] = []
    for number in NUMBERS:
        held = _pin("held", number)
        data = next_state(held, _pin("J", number), ~_pin("K", number))
        registers.append(Register(f"held{number}", 1, (Update(~_pin("CLK", number), data),), levels(number, preset)))
        drives.extend(outputs(number, held, preset))
    return Behaviour(registers=tuple(registers), drives=tuple(drives))


def pulse_triggered(preset: bool) -> Behaviour:
    """Two flip-flops that gather J and K while their clock is high and show the result when it falls."""
    latches: list[Latch] = []
    drives: list[Drive] = []
    for number in NUMBERS:
        clock, master, slave = _pin("CLK", number), _pin("master", number), _pin("slave", number)
        gathered = next_state(slave, master | _pin("J", number), master & ~_pin("K", number))
        latches.append(Latch(f"master{number}", 1, clock, gathered, levels(number, preset)))
        latches.append(Latch(f"slave{number}", 1, ~clock, master, levels(number, preset)))
        drives.extend(outputs(number, slave, preset))
    return Behaviour(latches=tuple(latches), drives=tuple(drives))


def units(preset: bool, low_k: bool = False) -> tuple[Unit, ...]:
    """The two flip-flops as pieces with the ports J, K (or K_n), CLK, PRE_n, CLR_n, Q and Q_n."""
    presets = (("PRE", "_n"),) if preset else ()
    names = (("J", ""), ("K", "_n" if low_k else ""), ("CLK", ""), *presets, ("CLR", "_n"), ("Q", ""), ("Q", "_n"))
    return tuple(
        Unit(str(number), tuple((f"{name}{end}", f"{name}{number}{end}") for name, end in names)) for number in NUMBERS
    )
