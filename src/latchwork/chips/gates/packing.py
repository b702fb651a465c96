"""Packages of several equal gates: their behaviour, units and vectors, from the function of one gate."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import reduce
from operator import and_, or_, xor

from latchwork.logic import Expression, variable
from latchwork.parts import Behaviour, Drive, OutputKind, Unit

Vectors = tuple[tuple[str, tuple[str, ...]], ...]


def gates(
    count: int,
    function: Callable[..., Expression],
    inputs: str,
    output: str = "Y",
    kind: OutputKind = OutputKind.PUSH_PULL,
) -> tuple[Behaviour, tuple[Unit, ...]]:
    """``count`` gates with pins A1, B1, Y1, A2, ...; ``inputs`` has one letter an input. A gate that is alone in
    its package has pins without numbers."""
    drives, units = [], []
    for number in range(1, count + 1):
        end = "" if count == 1 else str(number)
        ports = tuple((letter, f"{letter}{end}") for letter in (*inputs, output))
        drives.append(Drive(ports[-1][1], function(*(variable(port) for _, port in ports[:-1])), None, kind))
        units.append(Unit(str(number), ports))
    return Behaviour(tuple(drives)), tuple(units)


def vectors_of(units: Iterable[Unit]) -> Vectors:
    """One vector for each port that the units have, the first unit in the lowest bit: A is A1, A2, ...

    Figures speak of these; and a builder who needs the same gate for every bit of a bus can join it at once.
    """
    columns = zip(*(unit.ports for unit in units), strict=True)
    return tuple((column[0][0], tuple(port for _, port in column)) for column in columns)


def all_high(*inputs: Expression) -> Expression:
    """AND."""
    return reduce(and_, inputs)


def not_all_high(*inputs: Expression) -> Expression:
    """NAND."""
    return ~reduce(and_, inputs)


def some_high(*inputs: Expression) -> Expression:
    """OR."""
    return reduce(or_, inputs)


def none_high(*inputs: Expression) -> Expression:
    """NOR."""
    return ~reduce(or_, inputs)


def odd_high(*inputs: Expression) -> Expression:
    """Exclusive OR."""
    return reduce(xor, inputs)


def inverted(value: Expression) -> Expression:
    """NOT."""
    return ~value
