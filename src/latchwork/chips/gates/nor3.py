"""Triple three-input NOR gate.

What it does
    Three independent gates; an output is high only where all three inputs are low.

Pins
    As the 10, gate 1 is split: 1A 1 and 1B 2, but 1C 13 and 1Y 12. GND 7, VCC 14.

Function table
    =  =  =  =
    A  B  C  Y
    =  =  =  =
    H  x  x  L
    x  H  x  L
    x  x  H  L
    L  L  L  H
    =  =  =  =

Timing
    One gate delay from any input.

Mistakes people make
    Leaving the third input open where two are enough: tie it low, an open bipolar input reads high.

Sources
    Pins and delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, none_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 2A:i 2B:i 2C:i 2Y:o GND 3Y:o 3A:i 3B:i 3C:i 1Y:o 1C:i VCC")

behaviour, units = gates(3, none_high, inputs="ABC")

figures = (
    *delays("", "ABC", "Y", rise=(10, 15), fall=(7, 11)),
    *delays("LS", "ABC", "Y", both=(10, 15)),
    *delays("HC", "ABC", "Y", both=(None, 18)),
    *delays("HCT", "ABC", "Y", both=(12, 21)),
)

entry = Entry(
    number="27",
    title="triple three-input NOR gate",
    kind="gate",
    families=("", "LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nor",
    inputs=3,
)
