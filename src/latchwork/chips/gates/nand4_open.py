"""Dual four-input NAND gate with open-collector outputs.

What it does
    Two independent gates; an output pulls low where all four inputs are high and lets go otherwise.

Pins
    As the 20: 1A 1, 1B 2, 1C 4, 1D 5, 1Y 6; 2Y 8, 2A 9, 2B 10, 2C 12, 2D 13. Pins 3 and 11 lead nowhere. GND 7,
    VCC 14.

Function table
    =  =  =  =  ======
    A  B  C  D  Y
    =  =  =  =  ======
    L  x  x  x  let go
    x  L  x  x  let go
    x  x  L  x  let go
    x  x  x  L  let go
    H  H  H  H  L
    =  =  =  =  ======

Timing
    The rising edge is that of the pull-up resistor; the figures hold with the resistor of the sheet.

Mistakes people make
    No pull-up resistor at all.

Sources
    Function, pins and delays from memory of makers' data sheets (SN7422, SN74LS22, SN74S22).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.nand4 import pins
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(2, not_all_high, inputs="ABCD", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("", "ABCD", "Y", rise=(35, 45), fall=(8, 15)),
    *delays("LS", "ABCD", "Y", rise=(17, 32), fall=(15, 28)),
    *delays("S", "ABCD", "Y", rise=(5, 7.5), fall=(4.5, 7)),
)

entry = Entry(
    number="22",
    title="dual four-input NAND gate, open collector",
    kind="gate",
    families=("", "LS", "ALS", "S"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
