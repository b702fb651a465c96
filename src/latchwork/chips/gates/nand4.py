"""Dual four-input NAND gate.

What it does
    Two independent gates; an output is low only where all four inputs are high.

Pins
    1A 1, 1B 2, 1C 4, 1D 5, 1Y 6; 2Y 8, 2A 9, 2B 10, 2C 12, 2D 13. Pins 3 and 11 lead nowhere. GND 7, VCC 14.

Function table
    =  =  =  =  =
    A  B  C  D  Y
    =  =  =  =  =
    L  x  x  x  H
    x  L  x  x  H
    x  x  L  x  H
    x  x  x  L  H
    H  H  H  H  L
    =  =  =  =  =

Timing
    One gate delay from any input.

Mistakes people make
    Counting the four inputs straight on: pin 3 is not connected.

Sources
    Delay of HCT: Philips 74HC/HCT20. Pins and other delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i NC=NC3:n 1C:i 1D:i 1Y:o GND 2Y:o 2A:i 2B:i NC=NC11:n 2C:i 2D:i VCC")

behaviour, units = gates(2, not_all_high, inputs="ABCD")

figures = (
    *delays("", "ABCD", "Y", rise=(12, 22), fall=(8, 15)),
    *delays("LS", "ABCD", "Y", rise=(9, 15), fall=(10, 15)),
    *delays("F", "ABCD", "Y", rise=(3.7, 5.0), fall=(3.2, 4.3)),
    *delays("HC", "ABCD", "Y", both=(14, 22)),
    *delays(
        "HCT", "ABCD", "Y", both=(16, 28), source="Philips 74HC/HCT20 Dec 1990 p.6", conditions="4.5 V, 25 degC, 50 pF"
    ),
    *delays(
        "HCT",
        "ABCD",
        "Y",
        both=(None, 35),
        source="Philips 74HC/HCT20 Dec 1990 p.6",
        conditions="4.5 V, 85 degC, 50 pF",
    ),
)

entry = Entry(
    number="20",
    title="dual four-input NAND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nand",
    inputs=4,
)
