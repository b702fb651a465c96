"""Hex inverter.

What it does
    Six independent inverters.

Pins
    1A 1, 1Y 2, and so on; on the other side the outputs come first: 4Y 8, 4A 9. GND 7, VCC 14.

Function table
    =  =
    A  Y
    =  =
    L  H
    H  L
    =  =

Timing
    One gate delay.

Mistakes people make
    Making a clock of three of them in a ring: a 14 with a resistor and a capacitor starts surely, a ring does not.

Sources
    HCT delay: Philips 74HC/HCT04 p.5. Pins and other delays from memory.
"""

from latchwork.chips.figures import LOADED, delays
from latchwork.chips.gates.packing import gates, inverted, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1Y:o 2A:i 2Y:o 3A:i 3Y:o GND 4Y:o 4A:i 5Y:o 5A:i 6Y:o 6A:i VCC")

behaviour, units = gates(6, inverted, inputs="A")

figures = (
    *delays("", "A", "Y", rise=(12, 22), fall=(8, 15)),
    *delays("LS", "A", "Y", rise=(9, 15), fall=(10, 15)),
    *delays("F", "A", "Y", rise=(3.7, 5.0), fall=(3.2, 4.3)),
    *delays("HC", "A", "Y", both=(None, 17)),
    *delays("HCT", "A", "Y", both=(10, 19), source="Philips 74HC/HCT04 September 1993 p.5", conditions=LOADED),
)

entry = Entry(
    number="04",
    title="hex inverter",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="inverter",
    inputs=1,
)
