"""Quad two-input NOR gate with strong open-collector outputs.

What it does
    Four independent gates; an output lets go where both inputs are low and pulls low otherwise, with three times
    the strength of a usual gate.

Pins
    As the 02, outputs first: 1Y 1, 1A 2, 1B 3; on the other side 3A 8, 3B 9, 3Y 10. GND 7, VCC 14.

Function table
    =  =  ======
    A  B  Y
    =  =  ======
    L  L  let go
    H  x  L
    x  H  L
    =  =  ======

Timing
    The rising edge is that of the pull-up resistor; the figures hold with the resistor of the sheet.

Mistakes people make
    Taking the pinout of the 38: here the output comes before its inputs.

Sources
    Function, pins, delays and currents from memory of makers' data sheets (SN7433, SN74LS33).
"""

from latchwork.chips.figures import delays, remembered
from latchwork.chips.gates.nor2 import pins
from latchwork.chips.gates.packing import gates, none_high, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(4, none_high, inputs="AB", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("", "AB", "Y", rise=(10, 15), fall=(12, 18)),
    *delays("LS", "AB", "Y", rise=(20, 32), fall=(18, 28)),
    remembered("", "output current low", end="Y", unit="mA", maximum=48),
    remembered("LS", "output current low", end="Y", unit="mA", maximum=24),
)

entry = Entry(
    number="33",
    title="quad two-input NOR buffer, open collector",
    kind="gate",
    families=("", "LS", "ALS"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
