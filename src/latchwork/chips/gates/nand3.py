"""Triple three-input NAND gate.

What it does
    Three independent gates; an output is low only where all three inputs are high.

Pins
    Gate 1 is split: 1A 1 and 1B 2, but 1C 13 and 1Y 12. GND 7, VCC 14.

Function table
    =  =  =  =
    A  B  C  Y
    =  =  =  =
    L  x  x  H
    x  L  x  H
    x  x  L  H
    H  H  H  L
    =  =  =  =

Timing
    One gate delay from any input.

Mistakes people make
    Looking for 1C and 1Y beside 1A and 1B. Leaving the third input open where two are enough: tie it high.

Sources
    Pins and delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 2A:i 2B:i 2C:i 2Y:o GND 3Y:o 3A:i 3B:i 3C:i 1Y:o 1C:i VCC")

behaviour, units = gates(3, not_all_high, inputs="ABC")

figures = (
    *delays("", "ABC", "Y", rise=(11, 22), fall=(7, 15)),
    *delays("LS", "ABC", "Y", rise=(9, 15), fall=(10, 15)),
    *delays("F", "ABC", "Y", rise=(3.7, 5.0), fall=(3.2, 4.3)),
    *delays("HC", "ABC", "Y", both=(None, 19)),
    *delays("HCT", "ABC", "Y", both=(14, 24)),
)

entry = Entry(
    number="10",
    title="triple three-input NAND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nand",
    inputs=3,
)
