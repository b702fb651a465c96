"""Quad two-input NAND gate.

What it does
    Four independent gates; an output is low only where both its inputs are high.

Pins
    00: 1A 1, 1B 2, 1Y 3, then gate 2; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  =
    A  B  Y
    =  =  =
    L  x  H
    x  L  H
    H  H  L
    =  =  =

Timing
    One gate delay from either input.

Mistakes people make
    Taking the pinout of the 02, whose outputs sit where these inputs are. Leaving unused inputs open.

Sources
    Nexperia 74HC00 Rev.7 Table 2 (pins); Fairchild DM74LS00 (delays).
"""

from latchwork.chips.figures import stated
from latchwork.chips.gates.packing import gates
from latchwork.chips.pins import dip
from latchwork.logic import Expression
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 1Y:o 2A:i 2B:i 2Y:o GND 3Y:o 3A:i 3B:i 4Y:o 4A:i 4B:i VCC")


def nand(a: Expression, b: Expression) -> Expression:
    return ~(a & b)


behaviour, units = gates(4, nand, inputs="AB")

figures = (stated("LS", "delay", "A", "Y", edge="rise", typical=9, maximum=15, source="Fairchild DM74LS00"),)

entry = Entry(
    number="00",
    title="quad two-input NAND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT"),
    pins=pins,
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nand",
    inputs=2,
)
