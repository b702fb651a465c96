"""Quad two-input NOR gate.

What it does
    Four independent gates; an output is high only where both its inputs are low.

Pins
    The outputs come first here: 1Y 1, 1A 2, 1B 3; on the other side 3A 8, 3B 9, 3Y 10. GND 7, VCC 14.

Function table
    =  =  =
    A  B  Y
    =  =  =
    H  x  L
    x  H  L
    L  L  H
    =  =  =

Timing
    One gate delay from either input.

Mistakes people make
    Wiring it like a 00: pin 1 is an output. Two outputs then meet, or an input stays open.

Sources
    HCT delay: Philips 74HC/HCT02 p.5. Pins and other delays from memory.
"""

from latchwork.chips.figures import LOADED, delays
from latchwork.chips.gates.packing import gates, none_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1Y:o 1A:i 1B:i 2Y:o 2A:i 2B:i GND 3A:i 3B:i 3Y:o 4A:i 4B:i 4Y:o VCC")

behaviour, units = gates(4, none_high, inputs="AB")

figures = (
    *delays("", "AB", "Y", rise=(12, 22), fall=(8, 15)),
    *delays("LS", "AB", "Y", both=(10, 15)),
    *delays("F", "AB", "Y", rise=(4.4, 5.5), fall=(3.2, 4.3)),
    *delays("HC", "AB", "Y", both=(None, 18)),
    *delays("HCT", "AB", "Y", both=(11, 19), source="Philips 74HC/HCT02 December 1990 p.5", conditions=LOADED),
)

entry = Entry(
    number="02",
    title="quad two-input NOR gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nor",
    inputs=2,
)
