"""Quad three-state buffer with an enable for each.

What it does
    Four independent buffers, each with its own active-low enable; a disabled output is off.

Pins
    /1OE 1, 1A 2, 1Y 3, then buffer 2; on the other side the outputs come first: 3Y 8, 3A 9, /3OE 10. GND 7, VCC 14.

Function table
    ===  =  ===
    /OE  A  Y
    ===  =  ===
    L    L  L
    L    H  H
    H    x  off
    ===  =  ===

Timing
    Delay from A; enable and disable times from /OE.

Mistakes people make
    Taking the 126 for it, whose enables are active high. Two of them on one line enabled by a signal and its late
    inverse: they meet for some nanoseconds.

Sources
    Function, pins and figures from memory (SN74LS125A data sheet SDLS044; Philips 74HC/HCT125).
"""

from latchwork.chips.figures import bus_driver_currents, delays
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind, Unit

pins = dip("/1OE:i 1A:i 1Y:o /2OE:i 2A:i 2Y:o GND 3Y:o 3A:i /3OE:i 4Y:o 4A:i /4OE:i VCC")

NUMBERS = (1, 2, 3, 4)

behaviour = Behaviour(
    drives=tuple(
        Drive(f"Y{number}", variable(f"A{number}"), ~variable(f"OE{number}_n"), OutputKind.THREE_STATE)
        for number in NUMBERS
    )
)

units = tuple(
    Unit(str(number), (("A", f"A{number}"), ("OE_n", f"OE{number}_n"), ("Y", f"Y{number}"))) for number in NUMBERS
)

figures = (
    *delays("LS", "A", "Y", rise=(9, 15), fall=(7, 18)),
    *delays("LS", ("OE_n",), "Y", rise=(12, 20), fall=(15, 25), quantity="enable"),
    *delays("LS", ("OE_n",), "Y", both=(None, 20), quantity="disable"),
    *delays("HC", "A", "Y", both=(None, 20)),
    *delays("HC", ("OE_n",), "Y", both=(None, 25), quantity="enable"),
    *delays("HC", ("OE_n",), "Y", both=(None, 25), quantity="disable"),
    *delays("HCT", "A", "Y", both=(None, 25)),
    *delays("HCT", ("OE_n",), "Y", both=(None, 28), quantity="enable"),
    *delays("HCT", ("OE_n",), "Y", both=(None, 25), quantity="disable"),
    *(row for row in bus_driver_currents("Y") if row.family != "LS"),
)

entry = Entry(
    number="125",
    title="quad three-state buffer with single enables",
    kind="buffer",
    families=("", "LS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
