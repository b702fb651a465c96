"""Figures of data sheets, each with the place where it stands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Confidence(Enum):
    READ = "read"  # in the named source
    COMPUTED = "computed"  # from read figures by a stated formula
    MEMORY = "memory"  # recalled, no text at hand
    ESTIMATE = "estimate"  # a stated fraction of another figure


@dataclass(frozen=True)
class Figure:
    """One row of a data sheet, for one logic family.

    ``quantity`` is one of: delay, enable, disable, setup, hold, pulse width, recovery, maximum clock, access,
    write width, supply current, power capacitance, input high, input low, output high, output low,
    input current high, input current low, output current high, output current low, supply range.
    ``start`` and ``end`` are ports ("" where a figure belongs to the whole part). ``unit`` is one of ns, MHz, mA,
    uA, V, pF, mW. A sheet that gives rise and fall apart has two rows with ``edge`` "rise" and "fall" (of the end).
    """

    family: str
    quantity: str
    unit: str
    source: str
    confidence: Confidence
    start: str = ""
    end: str = ""
    edge: str = ""
    minimum: float | None = None
    typical: float | None = None
    maximum: float | None = None
    conditions: str = ""
