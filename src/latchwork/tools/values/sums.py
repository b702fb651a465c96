"""The sums. Each is a function of its values that gives a report; its parameters are the names that a person writes.

Values are in plain units: ohm, farad, second, hertz, volt, ampere.
"""

from __future__ import annotations

import math

from latchwork.reports.values import Amount, ValuesReport
from latchwork.tools.values.series import E12, E24, at_least, at_most

LN2 = math.log(2)
SCHMITT = (0.38, 0.70)
"""Upper threshold of a 74HC14, least and most, as a share of the supply (1.7 and 3.15 V at 4.5 V; from memory)."""
LEAK = 250e-6
"""What an open collector lets through while it is off, at most (from memory: 100 to 250 uA for TTL and LS)."""


def astable(ra: float, rb: float, c: float) -> ValuesReport:
    """A 555 that swings by itself: RA from the supply to discharge, RB from there to both thresholds and C."""
    high, low = LN2 * (ra + rb) * c, LN2 * rb * c
    found = (
        Amount("frequency", 1.44 / ((ra + 2 * rb) * c), "Hz"),
        Amount("high time", high, "s"),
        Amount("low time", low, "s"),
        Amount("share high", (ra + rb) / (ra + 2 * rb), ""),
    )
    notes = () if ra >= 1000 else ("RA below 1 kohm: the discharge pin has to take a lot of current",)
    formula = "f = 1.44 / ((RA + 2 RB) C); high 0.693 (RA + RB) C, low 0.693 RB C"
    return ValuesReport("astable", _given(ra=ra, rb=rb, c=c), found, formula, "data sheets of the 555", notes)


def pulse(r: float, c: float) -> ValuesReport:
    """A 555 that gives one pulse for each trigger."""
    found = (Amount("pulse", 1.1 * r * c, "s"),)
    return ValuesReport("pulse", _given(r=r, c=c), found, "t = 1.1 R C", "data sheets of the 555")


def rc(r: float, c: float) -> ValuesReport:
    """A resistor that charges a capacitor."""
    tau = r * c
    found = (
        Amount("time constant", tau, "s"),
        Amount("to half", LN2 * tau, "s"),
        Amount("to nine tenths", math.log(10) * tau, "s"),
        Amount("corner frequency", 1 / (2 * math.pi * tau), "Hz"),
    )
    return ValuesReport("rc", _given(r=r, c=c), found, "t = R C ln(1 / (1 - share)); f = 1 / (2 pi R C)", "textbooks")


def reset(r: float, c: float) -> ValuesReport:
    """How long a resistor and a capacitor hold a Schmitt input (74HC14) low after power comes on."""
    least, most = (-r * c * math.log(1 - share) for share in SCHMITT)
    found = (Amount("shortest", least, "s"), Amount("longest", most, "s"))
    notes = (
        "put a diode across the resistor, so that a short dip of the supply empties the capacitor",
        "mind the polarity of an electrolytic capacitor: its minus goes to ground",
    )
    source = "thresholds of the 74HC14 from memory: 0.38 to 0.70 of the supply"
    return ValuesReport("reset", _given(r=r, c=c), found, "t = -R C ln(1 - VT/VCC)", source, notes)


def lamp(current: float = 0.003, forward: float = 2.0, supply: float = 5.0) -> ValuesReport:
    """The resistor of a lamp (light-emitting diode)."""
    ideal = (supply - forward) / current
    e12, e24 = at_least(ideal, E12), at_least(ideal, E24)
    flows = (supply - forward) / e12
    found = (
        Amount("resistor", ideal, "ohm"),
        Amount("next of E12", e12, "ohm"),
        Amount("next of E24", e24, "ohm"),
        Amount("current with E12", flows, "A"),
        Amount("power in the resistor", flows * flows * e12, "W"),
    )
    given = _given(current=current, forward=forward, supply=supply)
    notes = ("take a resistor that is made for twice the power at least",) if flows * flows * e12 > 0.1 else ()
    return ValuesReport("lamp", given, found, "R = (V - VF) / I; P = I I R", "textbooks; E series of IEC 60063", notes)


def pull(
    low: float, inputs: float, *, high: float = 2.4, sink: float = 0.008, outputs: float = 1.0, supply: float = 5.0
) -> ValuesReport:
    """The range of a pull-up on a net of ``outputs`` open collectors. ``low`` and ``inputs``: all that the inputs on it
    give while it is low, and take while it is high; ``sink``: what one output may take; ``high``: the level asked."""
    least = (supply - 0.4) / (sink - low)
    most = (supply - high) / (inputs + outputs * LEAK)
    found = (
        Amount("least", least, "ohm"),
        Amount("most", most, "ohm"),
        Amount("least of E12", at_least(least, E12), "ohm"),
        Amount("most of E12", at_most(most, E12), "ohm"),
    )
    given = _given(low=low, inputs=inputs, high=high, sink=sink, outputs=outputs, supply=supply)
    formula = "least (VCC - VOL) / (IOL - sum of IIL), most (VCC - VIH) / (sum of IIH + outputs * leak)"
    notes = ("no resistor does both: split the net, or take a stronger output",) if least > most else ()
    return ValuesReport("pull", given, found, formula, "makers' data books; leak 250 uA from memory", notes)


def divider(crystal: float, clock: float) -> ValuesReport:
    """How far a crystal has to be divided for a clock."""
    ratio = crystal / clock
    whole = max(1, round(ratio))
    power = max(0, round(math.log2(ratio))) if ratio >= 1 else 0
    found = (
        Amount("ratio", ratio, ""),
        Amount("nearest whole number", whole, ""),
        Amount("clock with it", crystal / whole, "Hz"),
        Amount("error with it", crystal / whole / clock - 1, ""),
        Amount("flip-flops of a binary divider", power, ""),
        Amount("clock with them", crystal / 2**power, "Hz"),
    )
    notes = ("the crystal is slower than the clock asked for",) if ratio < 1 else ()
    return ValuesReport("divider", _given(crystal=crystal, clock=clock), found, "f / n", "textbooks", notes)


UNITS = {
    "ra": "ohm", "rb": "ohm", "r": "ohm", "c": "F", "supply": "V", "forward": "V", "high": "V", "current": "A",
    "low": "A", "inputs": "A", "sink": "A", "outputs": "", "crystal": "Hz", "clock": "Hz",
}  # fmt: skip
SUMS = {work.__name__: work for work in (astable, pulse, rc, reset, lamp, pull, divider)}


def _given(**values: float) -> tuple[Amount, ...]:
    return tuple(Amount(name, value, UNITS[name]) for name, value in values.items())
