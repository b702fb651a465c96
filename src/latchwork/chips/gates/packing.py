"""Packages of several equal gates: their behaviour and their units, from the function of one gate."""

from __future__ import annotations

from collections.abc import Callable

from latchwork.logic import Expression, variable
from latchwork.parts import Behaviour, Drive, OutputKind, Unit


def gates(
    count: int,
    function: Callable[..., Expression],
    inputs: str,
    output: str = "Y",
    kind: OutputKind = OutputKind.PUSH_PULL,
) -> tuple[Behaviour, tuple[Unit, ...]]:
    """``count`` gates with pins A1, B1, Y1, A2, ...; ``inputs`` has one letter an input."""
    drives, units = [], []
    for number in range(1, count + 1):
        ports = tuple((letter, f"{letter}{number}") for letter in (*inputs, output))
        drives.append(Drive(ports[-1][1], function(*(variable(port) for _, port in ports[:-1])), None, kind))
        units.append(Unit(str(number), ports))
    return Behaviour(tuple(drives)), tuple(units)
