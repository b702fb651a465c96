"""Hex inverter with open-collector outputs, of usual strength (05) or for 30 V and 40 mA (06).

What it does
    Six inverters that pull low where their input is high and let go where it is low. The 06 may pull up to a higher
    supply and sinks enough for lamps and small relays.

Pins
    As the 04: 1A 1, 1Y 2; on the other side the outputs come first: 4Y 8, 4A 9. GND 7, VCC 14.

Function table
    =  ======
    A  Y
    =  ======
    L  let go
    H  L
    =  ======

Timing
    The rising edge is that of the pull-up resistor; the figures hold with the resistor of the sheet.

Mistakes people make
    No pull-up resistor. Taking the 30 V of the 06 for its own supply, which stays 5 V.

Sources
    Output currents of the 06: TI product pages of SN7406 and SN74LS06. Function, pins and delays from memory of
    makers' data sheets (SN7405, SN7406 and their LS; 74HC05).
"""

from latchwork.chips.figures import delays, stated
from latchwork.chips.gates.inverter import pins
from latchwork.chips.gates.packing import gates, inverted, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(6, inverted, inputs="A", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("", "A", "Y", rise=(40, 55), fall=(8, 15)),
    *delays("LS", "A", "Y", rise=(17, 32), fall=(15, 28)),
    *delays("S", "A", "Y", rise=(5, 7.5), fall=(4.5, 7)),
    *delays("HC", "A", "Y", both=(None, 23)),
)

strong_figures = (
    *delays("", "A", "Y", rise=(10, 15), fall=(15, 23)),
    *delays("LS", "A", "Y", rise=(7, 15), fall=(10, 20)),
    stated("", "output current low", end="Y", unit="mA", maximum=40, source="TI SN7406 product page"),
    stated("LS", "output current low", end="Y", unit="mA", maximum=40, source="TI SN74LS06 product page"),
)

usual = Entry(
    number="05",
    title="hex inverter, open collector",
    kind="gate",
    families=("", "LS", "ALS", "S", "HC", "AC", "ACT", "AHC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)

entries = (
    usual,
    usual.renamed("06", title="hex inverter, open collector, 30 V", families=("", "LS", "LVC"), figures=strong_figures),
)
