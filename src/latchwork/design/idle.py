"""What holds a bus while nothing drives it."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.design.values import ohms_of


@dataclass(frozen=True)
class Idle:
    """``kind``: "high", "low" or "keep", as in ``netlist.Bus``; ``ohms`` of each resistor, 0 for a keeper."""

    kind: str
    ohms: int = 0


def pull_up(resistor: str | int = "10k") -> Idle:
    """A resistor from each net to the supply."""
    return Idle("high", ohms_of(resistor))


def pull_down(resistor: str | int = "10k") -> Idle:
    """A resistor from each net to ground."""
    return Idle("low", ohms_of(resistor))


def keeper() -> Idle:
    """An element on each net that holds the last driven value."""
    return Idle("keep")
