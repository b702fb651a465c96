"""Triple three-input AND gate.

What it does
    Three independent gates; an output is high only where all three inputs are high.

Pins
    As the 10, gate 1 is split: 1A 1 and 1B 2, but 1C 13 and 1Y 12. GND 7, VCC 14.

Function table
    =  =  =  =
    A  B  C  Y
    =  =  =  =
    L  x  x  L
    x  L  x  L
    x  x  L  L
    H  H  H  H
    =  =  =  =

Timing
    One gate delay from any input.

Mistakes people make
    Taking it for a 10, which has the same pins and inverts.

Sources
    Pins and delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import all_high, gates, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 2A:i 2B:i 2C:i 2Y:o GND 3Y:o 3A:i 3B:i 3C:i 1Y:o 1C:i VCC")

behaviour, units = gates(3, all_high, inputs="ABC")

figures = (
    *delays("", "ABC", "Y", rise=(17.5, 27), fall=(12, 19)),
    *delays("LS", "ABC", "Y", rise=(8, 15), fall=(10, 20)),
    *delays("F", "ABC", "Y", rise=(4.2, 5.6), fall=(4.1, 5.5)),
    *delays("HC", "ABC", "Y", both=(None, 20)),
    *delays("HCT", "ABC", "Y", both=(None, 28)),
)

entry = Entry(
    number="11",
    title="triple three-input AND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="and",
    inputs=3,
)
