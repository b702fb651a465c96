"""Quad two-input exclusive-OR gate.

What it does
    Four independent gates; an output is high where its inputs differ. With one input as control a gate passes
    the other or inverts it.

Pins
    As the 00: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  =
    A  B  Y
    =  =  =
    L  L  L
    L  H  H
    H  L  H
    H  H  L
    =  =  =

Timing
    Slower than the simple gates, and in bipolar families slower when the other input is high (the gate inverts).

Mistakes people make
    Two inputs that change at nearly the same time give a spike though the result stays the same.

Sources
    LS: Renesas HD74LS86 p.2. Pins and other delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays, stated
from latchwork.chips.gates.packing import gates, odd_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 1Y:o 2A:i 2B:i 2Y:o GND 3Y:o 3A:i 3B:i 4Y:o 4A:i 4B:i VCC")

behaviour, units = gates(4, odd_high, inputs="AB")

figures = (
    *delays("", "AB", "Y", rise=(18, 30), fall=(13, 22)),
    *delays(
        "LS",
        "AB",
        "Y",
        rise=(12, 23),
        fall=(10, 17),
        source="Renesas HD74LS86 p.2",
        conditions="other input low; 5 V, 25 degC, 15 pF",
    ),
    *delays(
        "LS",
        "AB",
        "Y",
        rise=(20, None),
        fall=(13, 22),
        source="Renesas HD74LS86 p.2",
        conditions="other input high; 5 V, 25 degC, 15 pF",
    ),
    *delays("LS", "AB", "Y", rise=(20, 30), fall=(13, 22)),
    *delays("F", "AB", "Y", rise=(5.3, 7.0), fall=(4.7, 6.5)),
    *delays("HC", "AB", "Y", both=(None, 24)),
    *delays("HCT", "AB", "Y", both=(17, 32)),
    stated("LS", "supply current", unit="mA", typical=6.1, maximum=10, source="Renesas HD74LS86 p.2"),
)

entry = Entry(
    number="86",
    title="quad two-input exclusive-OR gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="xor",
    inputs=2,
)
