"""Four-bit full adder with fast carry.

What it does
    S and C4 are the five bits of A plus B plus C0.

Pins
    283: S2 1, B2 2, A2 3, S1 4, A1 5, B1 6, C0 7, GND 8, C4 9, S4 10, B4 11, A4 12, S3 13, A3 14, B3 15, VCC 16.
    Vectors: A, B, S, each 1 to 4, lowest bit first.

Function table
    C0 + (A1 + B1) + 2 (A2 + B2) + 4 (A3 + B3) + 8 (A4 + B4) = S1 + 2 S2 + 4 S3 + 8 S4 + 16 C4

Timing
    Packages are chained C4 to C0: operand to C4, C0 to C4 for each package between, C0 to S in the last.

Mistakes people make
    Counting bits from 0: the pins count from 1. Taking the 83, the same adder with other pins. Leaving C0 open.

Sources
    Philips 74HC/HCT283 Dec 1990 p.2 (typical times). Motorola SN54/74LS283 p.5-2 (equation, pins), SN54/74LS83A p.5-83
    (figures; the same for the LS283 from memory).
"""

from latchwork.chips.figures import LIGHT, delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Confidence, Drive, Entry

pins = dip("S2:o B2:i A2:i S1:o A1:i B1:i C0:i GND C4:o S4:o B4:i A4:i S3:o A3:i B3:i VCC")

a, b, carry = variable("A", 4), variable("B", 4), variable("C0")
total = concat(a, constant(0)) + concat(b, constant(0)) + concat(carry, constant(0, 4))

behaviour = Behaviour(drives=(Drive("S", total[0:4]), Drive("C4", total[4])))

_LIKE_83 = "from memory: as Motorola SN54/74LS83A p.5-83"
_ROWS = (  # end, operand to it: rise and fall, carry in to it: rise and fall
    ("S", (15, 24), (15, 24), (16, 24), (15, 24)),
    ("C4", (11, 17), (12, 17), (11, 17), (15, 22)),
)

_PHILIPS = "Philips 74HC/HCT283 Dec 1990 p.2, quick reference data"
_QUICK = (  # start, end, typical of HC and of HCT
    ("C0", "S1", 16, 15), ("C0", "S2", 18, 21), ("C0", "S3", 20, 23), ("C0", "S4", 23, 27), ("C0", "C4", 20, 23),
    ("A", "S", 21, 25), ("B", "S", 21, 25), ("A", "C4", 20, 24), ("B", "C4", 20, 24),
)  # fmt: skip

figures = (
    *(
        stated(family, "delay", start, end, typical=typical, source=_PHILIPS, conditions=LIGHT)
        for start, end, *both in _QUICK
        for family, typical in zip(("HC", "HCT"), both, strict=True)
    ),
    *(
        stated(family, "power capacitance", typical=value, unit="pF", source=_PHILIPS, conditions="package")
        for family, value in (("HC", 88), ("HCT", 92))
    ),
    *(
        figure
        for end, rise, fall, carry_rise, carry_fall in _ROWS
        for figure in (
            *delays("LS", "AB", end, rise=rise, fall=fall, source=_LIKE_83, confidence=Confidence.MEMORY),
            *delays(
                "LS", ("C0",), end, rise=carry_rise, fall=carry_fall, source=_LIKE_83, confidence=Confidence.MEMORY
            ),
        )
    ),
    *delays("HC", "AB", "S", both=(None, 42)),
    *delays("F", "AB", "S", both=(None, 9.5)),
    *delays("HC", ("C0",), "C4", both=(None, 39)),
)

entry = Entry(
    number="283",
    title="four-bit full adder",
    kind="arithmetic",
    families=("", "LS", "S", "F", "HC", "HCT", "AC"),
    pins=pins,
    vectors=tuple((letter, numbered(letter, 4)) for letter in "ABS"),
    behaviour=behaviour,
    figures=figures,
)
