"""Hex buffer with open-collector outputs for 30 V and 40 mA.

What it does
    Six buffers that pull low where their input is low and let go where it is high.

Pins
    As the 04: 1A 1, 1Y 2; on the other side the outputs come first: 4Y 8, 4A 9. GND 7, VCC 14.

Function table
    =  ======
    A  Y
    =  ======
    L  L
    H  let go
    =  ======

Timing
    The rising edge is that of the pull-up resistor; falling takes longer than through the inverting 06.

Mistakes people make
    No pull-up resistor. Taking the 17, which is the same for 15 V.

Sources
    Function, pins and output currents: TI SN74LS07 SDLS021D, SN7407. Delays from memory.
"""

from latchwork.chips.figures import delays, stated
from latchwork.chips.gates.inverter import pins
from latchwork.chips.gates.packing import gates, vectors_of
from latchwork.logic import Expression
from latchwork.parts import Entry, OutputKind


def same(value: Expression) -> Expression:
    return value


behaviour, units = gates(6, same, inputs="A", kind=OutputKind.OPEN_COLLECTOR)

figures = (
    *delays("", "A", "Y", rise=(6, 10), fall=(20, 30)),
    *delays("LS", "A", "Y", rise=(6, 10), fall=(19, 30)),
    stated("", "output current low", end="Y", unit="mA", maximum=40, source="TI SN7407 (description)"),
    stated("LS", "output current low", end="Y", unit="mA", maximum=40, source="TI SN74LS07 SDLS021D"),
)

entry = Entry(
    number="07",
    title="hex buffer, open collector, 30 V",
    kind="gate",
    families=("", "LS", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
