"""Dual four-input AND gate.

What it does
    Two independent gates; an output is high only where all four inputs are high.

Pins
    As the 20: 1A 1, 1B 2, 1C 4, 1D 5, 1Y 6; 2Y 8, 2A 9, 2B 10, 2C 12, 2D 13. Pins 3 and 11 lead nowhere. GND 7,
    VCC 14.

Function table
    =  =  =  =  =
    A  B  C  D  Y
    =  =  =  =  =
    L  x  x  x  L
    x  L  x  x  L
    x  x  L  x  L
    x  x  x  L  L
    H  H  H  H  H
    =  =  =  =  =

Timing
    One gate delay from any input.

Mistakes people make
    Counting the four inputs straight on: pin 3 is not connected.

Sources
    Pins and delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.nand4 import pins
from latchwork.chips.gates.packing import all_high, gates, vectors_of
from latchwork.parts import Entry

behaviour, units = gates(2, all_high, inputs="ABCD")

figures = (
    *delays("LS", "ABCD", "Y", rise=(8, 15), fall=(10, 20)),
    *delays("HC", "ABCD", "Y", both=(None, 22)),
    *delays("HCT", "ABCD", "Y", both=(None, 27)),
)

entry = Entry(
    number="21",
    title="dual four-input AND gate",
    kind="gate",
    families=("", "LS", "ALS", "HC", "HCT"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="and",
    inputs=4,
)
