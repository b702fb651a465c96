"""Octal transparent latch with three-state outputs, in two pinouts.

What it does
    While LE is high each output follows its D input; when LE goes low it keeps the last value. The outputs drive
    while the enable is low (/OC of the 373, /OE of the 573); latching goes on while they don't.

Pins
    373: /OC 1, LE 11, D and Q pairs along both sides. 573: /OE 1, LE 11, all D on one side (2 to 9), all Q on the
    other (19 down to 12). GND 10, VCC 20.

Function table
    ========  ==  ====  ====
    /OC, /OE  LE  held  Q
    ========  ==  ====  ====
    L         H   D     D
    L         L   held  held
    H         H   D     off
    H         L   held  off
    ========  ==  ====  ====

Timing
    Delays from D and from LE; D must be stable around the falling edge of LE.

Mistakes people make
    Taking it for the 374: a latch in a loop (a counter, an accumulator with its adder) runs round while LE is high.

Sources
    Function and pins of the 373: Motorola SN74LS373 p.5-521. HCT573 setup, hold and pulse width: TI SN74HCT573
    SCLS176G. AC573 delays: TI SN74AC573 SCAS542H, at 3.3 V. Pins of the 573 and other figures from
    memory of makers' data sheets.
"""

from latchwork.chips.figures import (
    bus_register_currents,
    delays,
    remembered_pulses,
    remembered_times,
    stated,
)
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Latch, OutputKind

pins = dip("""
    /OC:i 1Q:o 1D:i 2D:i 2Q:o 3Q:o 3D:i 4D:i 4Q:o GND
    LE:i 5Q:o 5D:i 6D:i 6Q:o 7Q:o 7D:i 8D:i 8Q:o VCC
""")

flow_through_pins = dip("""
    /OE:i 1D:i 2D:i 3D:i 4D:i 5D:i 6D:i 7D:i 8D:i GND
    LE:i 8Q:o 7Q:o 6Q:o 5Q:o 4Q:o 3Q:o 2Q:o 1Q:o VCC
""")


def latch(enable: str) -> Behaviour:
    """The behaviour with ``enable`` as the active-low pin that lets the outputs drive."""
    return Behaviour(
        latches=(Latch("held", 8, variable("LE"), variable("D", 8)),),
        drives=(Drive("Q", variable("held", 8), ~variable(enable), OutputKind.THREE_STATE),),
    )


figures = (
    *delays("LS", ("D",), "Q", both=(12, 18)),
    *delays("LS", ("LE",), "Q", rise=(None, 30), fall=(None, 30)),
    *delays("LS", ("OC_n",), "Q", rise=(15, 28), fall=(25, 36), quantity="enable"),
    *delays("LS", ("OC_n",), "Q", both=(15, 25), quantity="disable"),
    *remembered_times("LS", "setup", "LE", D=5),
    *remembered_times("LS", "hold", "LE", D=20),
    *remembered_pulses("LS", LE=15),
    *delays("HC", ("D",), "Q", both=(None, 30)),
    *delays("HC", ("LE",), "Q", both=(None, 35)),
    *delays("HC", ("OC_n",), "Q", both=(None, 30), quantity="enable"),
    *delays("HC", ("OC_n",), "Q", both=(None, 30), quantity="disable"),
    *remembered_times("HC", "setup", "LE", D=10),
    *remembered_times("HC", "hold", "LE", D=5),
    *delays("HCT", ("D",), "Q", both=(None, 30)),
    *delays("HCT", ("LE",), "Q", both=(None, 32)),
    *delays("HCT", ("OC_n",), "Q", both=(None, 32), quantity="enable"),
    *delays("HCT", ("OC_n",), "Q", both=(None, 30), quantity="disable"),
    *remembered_times("HCT", "setup", "LE", D=12),
    *remembered_times("HCT", "hold", "LE", D=4),
    *bus_register_currents("Q"),
)

TEXAS, WHEN = "TI SN74HCT573 SCLS176G", "4.5 V, 25 degC"
AC_TEXAS, AC_WHEN = "TI SN74AC573 SCAS542H", "3.3 V, 25 degC; faster at 5 V"

flow_through_figures = (
    *delays("HC", ("D",), "Q", both=(None, 35)),
    *delays("HC", ("LE",), "Q", both=(None, 35)),
    *delays("HC", ("OE_n",), "Q", both=(None, 30), quantity="enable"),
    *delays("HC", ("OE_n",), "Q", both=(None, 30), quantity="disable"),
    *remembered_times("HC", "setup", "LE", D=10),
    *remembered_times("HC", "hold", "LE", D=5),
    *delays("HCT", ("D", "LE"), "Q", both=(None, 35)),
    *delays("HCT", ("OE_n",), "Q", both=(None, 35), quantity="enable"),
    *delays("HCT", ("OE_n",), "Q", both=(None, 35), quantity="disable"),
    stated("HCT", "pulse width", "LE", minimum=20, source=TEXAS, conditions=WHEN),
    stated("HCT", "setup", "D", "LE", minimum=10, source=TEXAS, conditions=WHEN),
    stated("HCT", "hold", "D", "LE", minimum=5, source=TEXAS, conditions=WHEN),
    *(
        stated("AC", quantity, start, "Q", edge=edge, minimum=2.5, maximum=most, source=AC_TEXAS, conditions=AC_WHEN)
        for quantity, start, edge, most in (
            ("delay", "D", "rise", 13.0),
            ("delay", "D", "fall", 12.0),
            ("delay", "LE", "rise", 13.0),
            ("delay", "LE", "fall", 12.0),
            ("enable", "OE_n", "", 11.0),
            ("disable", "OE_n", "", 12.5),
        )
    ),
    *(row for row in bus_register_currents("Q") if row.family != "LS"),
)

pairwise = Entry(
    number="373",
    title="octal transparent latch with three-state outputs",
    kind="latch",
    families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("D", numbered("D", 8)), ("Q", numbered("Q", 8))),
    behaviour=latch("OC_n"),
    figures=figures,
)

flow_through = pairwise.renamed(
    "573",
    title="octal transparent latch with three-state outputs, inputs opposite to outputs",
    families=("ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=flow_through_pins,
    behaviour=latch("OE_n"),
    figures=flow_through_figures,
)

entries = (pairwise, flow_through)
