"""Quad two-input AND gate with open-collector outputs.

What it does
    Four independent gates; an output lets go where both its inputs are high and pulls low otherwise.

Pins
    As the 08: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  ======
    A  B  Y
    =  =  ======
    L  x  L
    x  L  L
    H  H  let go
    =  =  ======

Timing
    The rising edge is that of the pull-up resistor; the figures hold with the resistor of the sheet.

Mistakes people make
    No pull-up resistor at all.

Sources
    Function, pins and delays from memory of makers' data sheets (SN7409, SN74LS09, SN74S09; 74HC09).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.and2 import pins
from latchwork.chips.gates.packing import all_high, gates, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(4, all_high, inputs="AB", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("", "AB", "Y", rise=(21, 32), fall=(16, 24)),
    *delays("LS", "AB", "Y", rise=(20, 35), fall=(17, 35)),
    *delays("S", "AB", "Y", both=(6.5, 10)),
    *delays("HC", "AB", "Y", both=(None, 25)),
)

entry = Entry(
    number="09",
    title="quad two-input AND gate, open collector",
    kind="gate",
    families=("", "LS", "ALS", "S", "HC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
