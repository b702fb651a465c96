"""Quad two-input AND gate.

What it does
    Four independent gates; an output is high only where both its inputs are high.

Pins
    As the 00: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  =
    A  B  Y
    =  =  =
    L  x  L
    x  L  L
    H  H  H
    =  =  =

Timing
    One gate delay from either input, in bipolar families longer than that of a 00: two stages inside.

Mistakes people make
    Gating a clock with it while the other input still moves: the short pulse that comes out clocks like a real one.

Sources
    HCT delays: TI CD74HCT08 p.6. Pins and other delays from memory.
"""

from latchwork.chips.figures import LIGHT, LOADED, delays, stated
from latchwork.chips.gates.packing import all_high, gates, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 1Y:o 2A:i 2B:i 2Y:o GND 3Y:o 3A:i 3B:i 4Y:o 4A:i 4B:i VCC")

behaviour, units = gates(4, all_high, inputs="AB")

TEXAS = "TI CD74HC08, CD74HCT08 p.6"

figures = (
    *delays("", "AB", "Y", rise=(17.5, 27), fall=(12, 19)),
    *delays("LS", "AB", "Y", rise=(8, 15), fall=(10, 20)),
    *delays("F", "AB", "Y", rise=(4.2, 5.6), fall=(4.0, 5.3)),
    *delays("HC", "AB", "Y", both=(None, 18)),
    *delays("HCT", "AB", "Y", both=(None, 25), source=TEXAS, conditions=LOADED),
    *delays("HCT", "AB", "Y", both=(10, None), source=TEXAS, conditions=LIGHT),
    stated("HCT", "power capacitance", typical=51, unit="pF", conditions="each gate", source=TEXAS),
)

entry = Entry(
    number="08",
    title="quad two-input AND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="and",
    inputs=2,
)
