"""A test for one chip in hand."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class VectorPin:
    """A pin of the package. ``role``: "in", "out", "both", "pull-up" (an output that only pulls low: give it a resistor
    to the supply), "supply", "ground", "none". ``careful``: never moved together with another pin."""

    number: int
    name: str
    role: str
    careful: bool = False


@dataclass(frozen=True)
class Vector:
    """One step of the test. ``levels`` has a letter a pin, pin 1 first, as the test vectors of JESD3: 0, 1 set; C, K
    set low, high, low (high, low, high); L, H, Z to be found there (Z: let go); X not looked at; N not set.
    ``times``: how often a C or K is given before looking."""

    levels: str
    times: int = 1


@dataclass(frozen=True)
class VectorsReport:
    """``faults`` is how many stuck-at faults there are, ``pin_faults`` of them at pins. ``found``: how many of them the
    vectors show, each confirmed by a run of the faulty part. ``hidden``: faults that no vector can show. ``missed``:
    the others. ``coverage``: found of those not hidden, in percent."""

    part: str
    title: str
    seed: int
    pins: tuple[VectorPin, ...]
    vectors: tuple[Vector, ...]
    faults: int
    pin_faults: int
    found: int
    hidden: tuple[str, ...]
    missed: tuple[str, ...]
    coverage: float
