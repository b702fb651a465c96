"""Quad three-state buffer with an active-high enable for each.

What it does
    Four independent buffers, each with its own active-high enable; a disabled output is off.

Pins
    1OE 1, 1A 2, 1Y 3, then buffer 2; on the other side the outputs come first: 3Y 8, 3A 9, 3OE 10. GND 7, VCC 14.

Function table
    ==  =  ===
    OE  A  Y
    ==  =  ===
    H   L  L
    H   H  H
    L   x  off
    ==  =  ===

Timing
    Delay from A; enable and disable times from OE.

Mistakes people make
    Taking the 125 for it, whose enables are active low and whose pins are the same.

Sources
    Function, pins and figures from memory (SN74LS126A data sheet SDLS044; Philips 74HC/HCT126).
"""

from latchwork.chips.buffers.quad_single_enable import NUMBERS
from latchwork.chips.figures import bus_driver_currents, delays
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind, Unit

pins = dip("1OE:i 1A:i 1Y:o 2OE:i 2A:i 2Y:o GND 3Y:o 3A:i 3OE:i 4Y:o 4A:i 4OE:i VCC")

behaviour = Behaviour(
    drives=tuple(
        Drive(f"Y{number}", variable(f"A{number}"), variable(f"OE{number}"), OutputKind.THREE_STATE)
        for number in NUMBERS
    )
)

units = tuple(
    Unit(str(number), (("A", f"A{number}"), ("OE", f"OE{number}"), ("Y", f"Y{number}"))) for number in NUMBERS
)

figures = (
    *delays("LS", "A", "Y", rise=(9, 15), fall=(8, 18)),
    *delays("LS", ("OE",), "Y", rise=(16, 25), fall=(21, 35), quantity="enable"),
    *delays("LS", ("OE",), "Y", both=(None, 25), quantity="disable"),
    *delays("HC", "A", "Y", both=(None, 20)),
    *delays("HC", ("OE",), "Y", both=(None, 25), quantity="enable"),
    *delays("HC", ("OE",), "Y", both=(None, 25), quantity="disable"),
    *delays("HCT", "A", "Y", both=(None, 25)),
    *delays("HCT", ("OE",), "Y", both=(None, 28), quantity="enable"),
    *delays("HCT", ("OE",), "Y", both=(None, 28), quantity="disable"),
    *(row for row in bus_driver_currents("Y") if row.family != "LS"),
)

entry = Entry(
    number="126",
    title="quad three-state buffer with single enables, active high",
    kind="buffer",
    families=("", "LS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
