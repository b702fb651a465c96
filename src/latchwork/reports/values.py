"""Small sums: what was given, and what follows."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Amount:
    """``name`` in words, ``value`` in the plain ``unit`` (ohm, F, s, Hz, V, A, W, or "")."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True)
class ValuesReport:
    """``sum``: which one; ``formula`` and ``source`` of it; ``notes`` say what to look at."""

    sum: str
    given: tuple[Amount, ...]
    found: tuple[Amount, ...]
    formula: str
    source: str
    notes: tuple[str, ...] = ()
