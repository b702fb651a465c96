"""Writing figures down shortly: one call a row of a data sheet, in nanoseconds unless said otherwise."""

from __future__ import annotations

from collections.abc import Iterable

from latchwork.parts import Confidence, Figure

MEMORY_CONDITIONS = "25 degC; LS, F at 5 V (LS 15 pF, bus drivers 45 pF, F 50 pF), HC, HCT 4.5 V 50 pF, AC 5 V 50 pF"
MAKERS = "makers' data sheets"
LIGHT = "5 V, 25 degC, 15 pF"  # what quick reference data of CMOS sheets and most bipolar sheets are measured at
LOADED = "4.5 V, 25 degC, 50 pF"

Pair = tuple[float | None, float | None]  # typical and maximum


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


def delays(
    family: str,
    starts: Iterable[str],
    end: str,
    *,
    both: Pair | None = None,
    rise: Pair | None = None,
    fall: Pair | None = None,
    quantity: str = "delay",
    source: str = "",
    conditions: str = "",
    confidence: Confidence | None = None,
) -> tuple[Figure, ...]:
    """The rows for a time from each of ``starts`` to ``end``, (typical, maximum) where the end rises, falls, or
    does either. Without ``source`` they are from memory, under the conditions that ``MEMORY_CONDITIONS`` gives;
    with one they are read in it, if ``confidence`` does not say otherwise."""
    edges = {"": both, "rise": rise, "fall": fall}
    return tuple(
        stated(
            family, quantity, start, end, edge=edge, typical=pair[0], maximum=pair[1], source=source or MAKERS,
            conditions=conditions or ("" if source else MEMORY_CONDITIONS),
            confidence=confidence or (Confidence.READ if source else Confidence.MEMORY),
        )
        for start in starts
        for edge, pair in edges.items()
        if pair is not None
    )  # fmt: skip


def times(
    family: str, quantity: str, end: str, source: str, conditions: str = LIGHT, **least: float
) -> tuple[Figure, ...]:
    """Setup, hold or recovery times read in ``source``: the least time of each named input before or after ``end``."""
    return tuple(
        stated(family, quantity, start, end, minimum=value, source=source, conditions=conditions)
        for start, value in least.items()
    )


def pulses(family: str, source: str, conditions: str = LIGHT, **least: float) -> tuple[Figure, ...]:
    """Pulse widths read in ``source``: the least width at each named input."""
    return tuple(
        stated(family, "pulse width", start, minimum=value, source=source, conditions=conditions)
        for start, value in least.items()
    )


def clock_limit(
    family: str,
    start: str,
    source: str,
    *,
    least: float | None = None,
    usual: float | None = None,
    conditions: str = LIGHT,
) -> Figure:
    """Maximum clock frequency read in ``source``, in MHz: what every specimen reaches, and the usual one."""
    return stated(
        family, "maximum clock", start, minimum=least, typical=usual, unit="MHz", source=source, conditions=conditions
    )


def remembered_times(family: str, quantity: str, end: str, **least: float) -> tuple[Figure, ...]:
    """Setup, hold or recovery times from memory: the least time of each named input before or after ``end``."""
    return tuple(
        remembered(family, quantity, start, end, minimum=value, conditions=MEMORY_CONDITIONS)
        for start, value in least.items()
    )


def remembered_pulses(family: str, **least: float) -> tuple[Figure, ...]:
    """Pulse widths from memory: the least width at each named input."""
    return tuple(
        remembered(family, "pulse width", start, minimum=value, conditions=MEMORY_CONDITIONS)
        for start, value in least.items()
    )


def remembered_clock(family: str, start: str, least: float) -> Figure:
    """Maximum clock frequency from memory, in MHz: what every specimen reaches."""
    return remembered(family, "maximum clock", start, minimum=least, unit="MHz", conditions=MEMORY_CONDITIONS)


_LSTTL_15 = "15 LSTTL loads of 0.4 mA (ON MC74HC161A p.4; TI SN74HC574 SCLS148F; CD74HC273 SCHS174B)"
_UNIT_LOADS = "65 and 15 unit loads of 40 uA and 1.6 mA (Motorola FAST AND LS TTL DATA, SN74LS373)"


def bus_driver_currents(end: str) -> tuple[Figure, ...]:
    """Output currents of the stronger outputs of bus drivers, as the 244 and 245 have them."""
    return (
        *_output_currents("LS", end, -15, 24, "Fairchild DM74LS245 p.2", confidence=Confidence.READ),
        *_cmos_bus_currents(end),
    )


def bus_register_currents(end: str) -> tuple[Figure, ...]:
    """Output currents of registers and latches made for buses, as the 373 and 374 have them."""
    return (
        *_output_currents("LS", end, -2.6, 24, _UNIT_LOADS, confidence=Confidence.COMPUTED),
        *_cmos_bus_currents(end),
    )


def _cmos_bus_currents(end: str) -> tuple[Figure, ...]:
    return (
        *_output_currents("HC", end, -6, 6, _LSTTL_15, confidence=Confidence.COMPUTED),
        *_output_currents("HCT", end, -6, 6, "Renesas HD74HCT245", confidence=Confidence.READ),
    )


def _output_currents(
    family: str, end: str, high: float, low: float, source: str, *, confidence: Confidence
) -> tuple[Figure, ...]:
    return tuple(
        stated(family, name, end=end, unit="mA", maximum=value, source=source, confidence=confidence)
        for name, value in (("output current high", high), ("output current low", low))
    )
