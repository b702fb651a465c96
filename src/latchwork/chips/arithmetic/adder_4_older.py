"""Four-bit full adder with fast carry, older pinout.

What it does
    S and C4 are the five bits of A plus B plus C0. The 283 is the same adder with supply and ground at the corners.

Pins
    83: A4 1, S3 2, A3 3, B3 4, VCC 5, S2 6, B2 7, A2 8, S1 9, A1 10, B1 11, GND 12, C0 13, C4 14, S4 15, B4 16.
    Vectors: A, B, S, each 1 to 4, lowest bit first.

Function table
    C0 + (A1 + B1) + 2 (A2 + B2) + 4 (A3 + B3) + 8 (A4 + B4) = S1 + 2 S2 + 4 S3 + 8 S4 + 16 C4

Timing
    Packages are chained C4 to C0: operand to C4, C0 to C4 for each package between, C0 to S in the last.

Mistakes people make
    Supply at pin 16 and ground at pin 8: they are 5 and 12. Leaving C0 open.

Sources
    Motorola SN54/74LS83A p.5-83 (figures). Pins from memory (the same sheet).
"""

from latchwork.chips.arithmetic.adder_4 import behaviour
from latchwork.chips.figures import delays, remembered
from latchwork.chips.pins import dip, numbered
from latchwork.parts import Entry

pins = dip("A4:i S3:o A3:i B3:i VCC S2:o B2:i A2:i S1:o A1:i B1:i GND C0:i C4:o S4:o B4:i")

SOURCE, USUAL = "Motorola SN54/74LS83A p.5-83", "5 V, 25 degC, 15 pF"

figures = (
    *delays("LS", ("C0",), "S", rise=(16, 24), fall=(15, 24), source=SOURCE, conditions=USUAL),
    *delays("LS", ("C0",), "C4", rise=(11, 17), fall=(15, 22), source=SOURCE, conditions=USUAL),
    *delays("LS", "AB", "S", rise=(15, None), fall=(15, 24), source=SOURCE, conditions=USUAL),
    *delays("LS", "AB", "C4", rise=(11, None), fall=(12, 17), source=SOURCE, conditions=USUAL),
    *(
        remembered("LS", "delay", start, end, edge="rise", maximum=most, conditions=USUAL)
        for start in "AB"
        for end, most in (("S", 24), ("C4", 17))
    ),
)

entry = Entry(
    number="83",
    title="four-bit full adder, older pinout",
    kind="arithmetic",
    families=("", "LS"),
    pins=pins,
    vectors=tuple((letter, numbered(letter, 4)) for letter in "ABS"),
    behaviour=behaviour,
    figures=figures,
)
