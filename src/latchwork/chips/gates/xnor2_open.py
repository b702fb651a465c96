"""Quad two-input exclusive-NOR gate with open-collector outputs.

What it does
    Four independent gates; an output lets go where its inputs are equal and pulls low where they differ. Joined at
    one pull-up resistor several of them tell that two words are equal.

Pins
    1A 1, 1B 2, 1Y 3, 2Y 4, 2A 5, 2B 6, GND 7, 3A 8, 3B 9, 3Y 10, 4Y 11, 4A 12, 4B 13, VCC 14.

Function table
    =  =  ======
    A  B  Y
    =  =  ======
    L  L  let go
    L  H  L
    H  L  L
    H  H  let go
    =  =  ======

Timing
    The rising edge is that of the pull-up resistor; the figures hold with the resistor of the sheet.

Mistakes people make
    Taking the pinout of the 86. Counting on the output kind: some makers' HC266 have push-pull outputs, which must
    not be joined; here they are open as those of the LS part.

Sources
    Function, pins and delays from memory of makers' data sheets (SN74LS266, SN74HC266).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, odd_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.logic import Expression
from latchwork.parts import Entry, OutputKind

pins = dip("1A:i 1B:i 1Y:o 2Y:o 2A:i 2B:i GND 3A:i 3B:i 3Y:o 4Y:o 4A:i 4B:i VCC")


def even_high(*inputs: Expression) -> Expression:
    return ~odd_high(*inputs)


behaviour, units = gates(4, even_high, inputs="AB", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("LS", "AB", "Y", both=(18, 30)),
    *delays("HC", "AB", "Y", both=(None, 25)),
)

entry = Entry(
    number="266",
    title="quad two-input exclusive-NOR gate, open collector",
    kind="gate",
    families=("LS", "HC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
