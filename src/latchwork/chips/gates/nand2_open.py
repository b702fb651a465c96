"""Quad two-input NAND gate with open-collector outputs.

What it does
    Four independent gates; an output pulls low where both its inputs are high and lets go otherwise. Outputs that
    share one pull-up resistor make the AND of what each of them would show.

Pins
    As the 00: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  ======
    A  B  Y
    =  =  ======
    L  x  let go
    x  L  let go
    H  H  L
    =  =  ======

Timing
    Falls as fast as a 00; rises only as fast as the resistor fills the capacitance of the net: the figures for
    rising outputs hold with the resistor of the sheet (2 kohm in LS, 4 kohm in TTL).

Mistakes people make
    No pull-up resistor at all. Taking the 01, which has the same gates at other pins.

Sources
    ALS delays: National DM74ALS03B p.2-12. Function, pins and other delays from memory (SN7403, SN74LS03, SN74S03;
    74HC03).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.nand2 import pins
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(4, not_all_high, inputs="AB", kind=OutputKind.OPEN_COLLECTOR)

NATIONAL, NATIONAL_LOAD = "National DM74ALS03B p.2-12", "4.5 to 5.5 V, 0 to 70 degC, 50 pF, 2 kohm"

figures = (
    *delays("", "AB", "Y", rise=(35, 45), fall=(8, 15)),
    *delays("LS", "AB", "Y", rise=(17, 32), fall=(15, 28)),
    *delays("S", "AB", "Y", rise=(5, 7.5), fall=(4.5, 7)),
    *delays("ALS", "AB", "Y", rise=(None, 50), fall=(None, 13), source=NATIONAL, conditions=NATIONAL_LOAD),
    *delays("HC", "AB", "Y", both=(None, 25)),
)

entry = Entry(
    number="03",
    title="quad two-input NAND gate, open collector",
    kind="gate",
    families=("", "LS", "ALS", "S", "HC", "HCT"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
