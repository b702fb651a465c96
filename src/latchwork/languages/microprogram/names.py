"""What the machine has, as far as the microprogram is checked against it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Names:
    """``nets``: what meanings may speak of (nets, buses, registers, spaces); ``lines``: control lines;
    ``conditions``: what stands after ``when``. None: not known, not checked."""

    nets: frozenset[str] | None = None
    lines: frozenset[str] | None = None
    conditions: frozenset[str] | None = None


ANYTHING = Names()
