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
    One gate delay from either input. Bipolar outputs fall and rise in different times.

Mistakes people make
    Taking the pinout of the 02, whose outputs sit where these inputs are. Leaving unused inputs open.

Sources
    Pins: Nexperia 74HC00 Rev.7 Table 2. Delays: Fairchild DM74LS00, Toshiba TC74HCT00AP; the rest from memory.
"""

from latchwork.chips.figures import delays, remembered, stated
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 1Y:o 2A:i 2B:i 2Y:o GND 3Y:o 3A:i 3B:i 4Y:o 4A:i 4B:i VCC")

behaviour, units = gates(4, not_all_high, inputs="AB")

figures = (
    *delays("", "AB", "Y", rise=(11, 22), fall=(7, 15)),
    *delays("LS", "AB", "Y", rise=(9, 15), fall=(10, 15)),
    *delays(
        "LS", "AB", "Y", rise=(None, 10), source="Fairchild DM74LS00 p.2", conditions="5 V, 25 degC, 15 pF, 2 kohm"
    ),
    *delays(
        "LS", "AB", "Y", rise=(None, 15), source="Fairchild DM74LS00 p.2", conditions="5 V, 25 degC, 50 pF, 2 kohm"
    ),
    *delays("ALS", "AB", "Y", rise=(None, 11), fall=(None, 8)),
    *delays("S", "AB", "Y", rise=(3, 4.5), fall=(3, 5)),
    *delays("F", "AB", "Y", rise=(3.7, 5.0), fall=(3.2, 4.3)),
    *delays("HC", "AB", "Y", both=(9, 18)),
    *delays("HCT", "AB", "Y", both=(13, 19), source="Toshiba TC74HCT00AP p.3", conditions="4.5 V, 25 degC, 50 pF"),
    *delays(
        "HCT", "AB", "Y", both=(None, 24), source="Toshiba TC74HCT00AP p.3", conditions="4.5 V, -40 to 85 degC, 50 pF"
    ),
    *delays("AC", "AB", "Y", rise=(None, 8.0), fall=(None, 6.5)),
    stated(
        "LS",
        "supply current",
        unit="mA",
        typical=0.8,
        maximum=1.6,
        conditions="outputs high",
        source="Fairchild DM74LS00 p.2",
    ),
    stated("HCT", "power capacitance", unit="pF", typical=19, conditions="each gate", source="Toshiba TC74HCT00AP p.3"),
    remembered("HC", "power capacitance", unit="pF", typical=22, conditions="each gate"),
)

entry = Entry(
    number="00",
    title="quad two-input NAND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nand",
    inputs=2,
)
