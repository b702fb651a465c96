"""Writing figures down shortly: one call a row of a data sheet, in nanoseconds unless said otherwise."""

from __future__ import annotations

from latchwork.parts import Confidence, Figure

MEMORY_CONDITIONS = "25 degC; LS, F at 5 V (LS 15 pF, bus drivers 45 pF, F 50 pF), HC, HCT 4.5 V 50 pF, AC 5 V 50 pF"
MAKERS = "makers' data sheets"


def stated(  # one row a call: the arguments are the columns of the sheet
    family: str,
    quantity: str,
    start: str = "",
    end: str = "",
    *,
    source: str,
    edge: str = "",
    minimum: float | None = None,
    typical: float | None = None,
    maximum: float | None = None,
    unit: str = "ns",
    conditions: str = "",
    confidence: Confidence = Confidence.READ,
) -> Figure:
    """A figure read in the named source."""
    return Figure(family, quantity, unit, source, confidence, start, end, edge, minimum, typical, maximum, conditions)


def remembered(
    family: str,
    quantity: str,
    start: str = "",
    end: str = "",
    *,
    edge: str = "",
    minimum: float | None = None,
    typical: float | None = None,
    maximum: float | None = None,
    unit: str = "ns",
    conditions: str = "",
) -> Figure:
    """A figure from memory, no text at hand: to be replaced when a source is found."""
    return stated(
        family, quantity, start, end, source=MAKERS, edge=edge, minimum=minimum, typical=typical, maximum=maximum,
        unit=unit, conditions=conditions, confidence=Confidence.MEMORY,
    )  # fmt: skip
