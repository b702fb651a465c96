"""Hex buffer that takes input levels above its supply.

What it does
    Six buffers without enables. Inputs may stand at up to 15 V whatever the supply, so that it brings levels of 5 V
    down to 3.3 V.

Pins
    4050: VCC 1, 1Y 2, 1A 3, 2Y 4, 2A 5, 3Y 6, 3A 7, GND 8, 4A 9, 4Y 10, 5A 11, 5Y 12, NC 13, 6A 14, 6Y 15, NC 16. The
    supply is at pin 1, not at pin 16.

Function table
    =  =
    A  Y
    =  =
    L  L
    H  H
    =  =

Timing
    Delay from A to Y; longer at 3.3 V than at 4.5 V.

Mistakes people make
    Supply at pin 16. Expecting it to bring 3.3 V up to 5 V: use an HCT part for that.

Sources
    Function, pins and figures from memory (Philips 74HC4050).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Unit

pins = dip("VCC 1Y:o 1A:i 2Y:o 2A:i 3Y:o 3A:i GND 4A:i 4Y:o 5A:i 5Y:o NC=NC13:n 6A:i 6Y:o NC=NC16:n")

NUMBERS = (1, 2, 3, 4, 5, 6)
units = tuple(Unit(str(number), (("A", f"A{number}"), ("Y", f"Y{number}"))) for number in NUMBERS)

entry = Entry(
    number="4050",
    title="hex buffer for inputs above the supply",
    kind="buffer",
    families=("HC",),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=Behaviour(drives=tuple(Drive(f"Y{number}", variable(f"A{number}")) for number in NUMBERS)),
    units=units,
    figures=delays("HC", "A", "Y", both=(9, 17)),
)
