"""Quad two-input OR gate.

What it does
    Four independent gates; an output is low only where both its inputs are low.

Pins
    As the 00: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  =
    A  B  Y
    =  =  =
    H  x  H
    x  H  H
    L  L  L
    =  =  =

Timing
    One gate delay from either input, in LS longer than that of a 00.

Mistakes people make
    Forgetting that it is the AND of active-low signals: the output is low only while both are.

Sources
    Pins and delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, some_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 1Y:o 2A:i 2B:i 2Y:o GND 3Y:o 3A:i 3B:i 4Y:o 4A:i 4B:i VCC")

behaviour, units = gates(4, some_high, inputs="AB")

figures = (
    *delays("", "AB", "Y", rise=(10, 15), fall=(14, 22)),
    *delays("LS", "AB", "Y", both=(14, 22)),
    *delays("F", "AB", "Y", rise=(4.2, 5.6), fall=(4.0, 5.3)),
    *delays("HC", "AB", "Y", both=(None, 18)),
    *delays("HCT", "AB", "Y", both=(11, 24)),
)

entry = Entry(
    number="32",
    title="quad two-input OR gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="or",
    inputs=2,
)
