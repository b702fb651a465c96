"""Quad two-input NAND gate with Schmitt-trigger inputs.

What it does
    The gates of a 00 whose inputs switch at a higher level on the way up than on the way down. With one input as
    gate the other makes clean edges of slow signals, or an oscillator that can be stopped.

Pins
    As the 00: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  =
    A  B  Y
    =  =  =
    L  x  H
    x  L  H
    H  H  L
    =  =  =

Timing
    One gate delay, longer than that of a 00, counted from the moment the threshold is crossed.

Mistakes people make
    Counting on the typical thresholds for a time or a frequency: they differ much between specimens and families.

Sources
    Function, pins, delays and thresholds from memory of makers' data sheets (SN74132, SN74LS132, 74HC/HCT132).
"""

from latchwork.chips.figures import delays, remembered
from latchwork.chips.gates.nand2 import pins
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.parts import Entry

behaviour, units = gates(4, not_all_high, inputs="AB")

figures = (
    *delays("", "AB", "Y", both=(15, 22)),
    *delays("LS", "AB", "Y", both=(15, 22)),
    *delays("S", "AB", "Y", rise=(7, 10.5), fall=(8.5, 13)),
    *delays("HC", "AB", "Y", both=(None, 25)),
    *delays("HCT", "AB", "Y", both=(20, 33)),
    remembered(
        "LS", "input high", end="A", unit="V", minimum=1.4, typical=1.6, maximum=1.9, conditions="VT+, 5 V, 25 degC"
    ),
    remembered(
        "LS", "input low", end="A", unit="V", minimum=0.5, typical=0.8, maximum=1.0, conditions="VT-, 5 V, 25 degC"
    ),
)

entry = Entry(
    number="132",
    title="quad two-input NAND gate with Schmitt-trigger inputs",
    kind="gate",
    families=("", "LS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="schmitt nand",
    inputs=2,
)
