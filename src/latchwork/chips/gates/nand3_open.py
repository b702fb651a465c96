"""Triple three-input NAND gate with open-collector outputs.

What it does
    Three independent gates; an output pulls low where all three inputs are high and lets go otherwise.

Pins
    As the 10: 1A 1, 1B 2, 2A 3, 2B 4, 2C 5, 2Y 6, 3Y 8, 3A 9, 3B 10, 3C 11, 1Y 12, 1C 13. GND 7, VCC 14.

Function table
    =  =  =  ======
    A  B  C  Y
    =  =  =  ======
    L  x  x  let go
    x  L  x  let go
    x  x  L  let go
    H  H  H  L
    =  =  =  ======

Timing
    The rising edge is that of the pull-up resistor; the figures hold with the resistor of the sheet.

Mistakes people make
    No pull-up resistor. Looking for the third input of gate 1 beside its others: it is at pin 13.

Sources
    Function, pins and delays from memory of makers' data sheets (SN7412, SN74LS12).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.nand3 import pins
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(3, not_all_high, inputs="ABC", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("", "ABC", "Y", rise=(35, 45), fall=(8, 15)),
    *delays("LS", "ABC", "Y", rise=(17, 32), fall=(15, 28)),
)

entry = Entry(
    number="12",
    title="triple three-input NAND gate, open collector",
    kind="gate",
    families=("", "LS", "ALS"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
