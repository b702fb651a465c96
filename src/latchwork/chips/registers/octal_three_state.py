"""Octal D register with three-state outputs, in two pinouts.

What it does
    Takes the eight D inputs at the rising edge of CLK. The outputs drive while the enable is low (/OC of the 374,
    /OE of the 574); the register takes and holds whether they drive or not.

Pins
    374: /OC 1, CLK 11, D and Q pairs along both sides. 574: /OE 1, CLK 11, all D on one side (2 to 9), all Q on the
    other (19 down to 12). GND 10, VCC 20.

Function table
    ========  ====  ====  ====
    /OC, /OE  CLK   held  Q
    ========  ====  ====  ====
    L         rise  D     D
    L         L, H  held  held
    H         rise  D     off
    H         L, H  held  off
    ========  ====  ====  ====

Timing
    Delay from the clock; enable and disable times from /OC.

Mistakes people make
    Expecting a clock enable: it takes at every edge; gate neither the clock nor the outputs to hold a value, use a
    377 with a 244. Swapping 374 and 574, which differ in pinout only.

Sources
    Function: Motorola MC74HC574A; TI SCLS177C. Pins: Motorola SN54/74LS373/374 connection diagram; TI SN74HC574
    SCLS148F. HC delays and times to off: TI CD74HC374, CD74HC574 SCHS183E; supply current: SN74HC574;
    HCT574 delay and enable: SCLS177H. Other figures from memory.
"""

from latchwork.chips.figures import (
    LIGHT,
    LOADED,
    bus_register_currents,
    clock_limit,
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
    stated,
)
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind, Register, Update

pins = dip("""
    /OC:i 1Q:o 1D:i 2D:i 2Q:o 3Q:o 3D:i 4D:i 4Q:o GND
    CLK:i 5Q:o 5D:i 6D:i 6Q:o 7Q:o 7D:i 8D:i 8Q:o VCC
""")

flow_through_pins = dip("""
    /OE:i 1D:i 2D:i 3D:i 4D:i 5D:i 6D:i 7D:i 8D:i GND
    CLK:i 8Q:o 7Q:o 6Q:o 5Q:o 4Q:o 3Q:o 2Q:o 1Q:o VCC
""")

vectors = (("D", numbered("D", 8)), ("Q", numbered("Q", 8)))


def register(enable: str) -> Behaviour:
    """The behaviour with ``enable`` as the active-low pin that lets the outputs drive."""
    held = variable("held", 8)
    return Behaviour(
        registers=(Register("held", 8, (Update(variable("CLK"), variable("D", 8)),)),),
        drives=(Drive("Q", held, ~variable(enable), OutputKind.THREE_STATE),),
    )


TEXAS_BOTH = "TI CD74HC374, CD74HC574 SCHS183E, switching characteristics"


def off(enable: str) -> tuple[Figure, ...]:
    """HC times from the enable to outputs that are off."""
    loaded = delays("HC", (enable,), "Q", both=(None, 27), quantity="disable", source=TEXAS_BOTH, conditions=LOADED)
    light = delays("HC", (enable,), "Q", both=(11, None), quantity="disable", source=TEXAS_BOTH, conditions=LIGHT)
    return (*loaded, *light)


figures = (
    *delays("LS", ("CLK",), "Q", rise=(None, 28), fall=(None, 28)),
    *delays("LS", ("OC_n",), "Q", both=(None, 28), quantity="enable"),
    *delays("LS", ("OC_n",), "Q", both=(None, 25), quantity="disable"),
    *remembered_times("LS", "setup", "CLK", D=20),
    *remembered_times("LS", "hold", "CLK", D=0),
    *remembered_pulses("LS", CLK=15),
    remembered_clock("LS", "CLK", 35),
    *delays("HC", ("CLK",), "Q", both=(None, 33), source=TEXAS_BOTH, conditions=LOADED),
    *delays("HC", ("CLK",), "Q", both=(15, None), source=TEXAS_BOTH, conditions=LIGHT),
    *delays("HC", ("OC_n",), "Q", both=(None, 30), quantity="enable"),
    *off("OC_n"),
    *remembered_times("HC", "setup", "CLK", D=12),
    *remembered_times("HC", "hold", "CLK", D=5),
    *delays("HCT", ("CLK",), "Q", both=(None, 32)),
    *delays("HCT", ("OC_n",), "Q", both=(None, 30), quantity="enable"),
    *delays("HCT", ("OC_n",), "Q", both=(None, 28), quantity="disable"),
    *remembered_times("HCT", "setup", "CLK", D=12),
    *remembered_times("HCT", "hold", "CLK", D=5),
    *bus_register_currents("Q"),
)

TEXAS_HCT = "TI SN74HCT574 SCLS177H, switching characteristics"
TEXAS = "TI SN74HC574 SCLS148F"

flow_through_figures = (
    *delays("HC", ("CLK",), "Q", both=(None, 33), source=TEXAS_BOTH, conditions=LOADED),
    *delays("HC", ("CLK",), "Q", both=(15, None), source=TEXAS_BOTH, conditions=LIGHT),
    *delays("HC", ("CLK",), "Q", both=(22, None), source=TEXAS),
    *delays("HC", ("OE_n",), "Q", both=(None, 28), quantity="enable"),
    *off("OE_n"),
    *remembered_times("HC", "setup", "CLK", D=12),
    *remembered_times("HC", "hold", "CLK", D=5),
    stated("HC", "supply current", maximum=80, unit="uA", conditions="at rest", source=TEXAS),
    *delays("HCT", ("CLK",), "Q", both=(30, 36), source=TEXAS_HCT, conditions=LOADED),
    *delays("HCT", ("OE_n",), "Q", both=(26, 30), quantity="enable", source=TEXAS_HCT, conditions=LOADED),
    clock_limit("HCT", "CLK", TEXAS_HCT, least=30, usual=36, conditions=LOADED),
    *delays("HCT", ("OE_n",), "Q", both=(None, 28), quantity="disable"),
    *remembered_times("HCT", "setup", "CLK", D=12),
    *remembered_times("HCT", "hold", "CLK", D=5),
    *(row for row in bus_register_currents("Q") if row.family != "LS"),
)

pairwise = Entry(
    number="374",
    title="octal D register with three-state outputs",
    kind="register",
    families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors,
    behaviour=register("OC_n"),
    figures=figures,
)

flow_through = Entry(
    number="574",
    title="octal D register with three-state outputs, inputs opposite to outputs",
    kind="register",
    families=("ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=flow_through_pins,
    vectors=vectors,
    behaviour=register("OE_n"),
    figures=flow_through_figures,
)

entries = (pairwise, flow_through)
