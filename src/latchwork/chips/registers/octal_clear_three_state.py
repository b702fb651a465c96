"""Octal D register with synchronous clear and three-state outputs.

What it does
    Takes the eight D inputs at the rising edge of CLK, or zero while /CLR is low at that edge. The outputs drive
    while /OE is low; the register works on while they do not.

Pins
    24 pins in a narrow package: /CLR 1, /OE 2, 1D to 8D 3 to 10, GND 12, CLK 14, 8Q to 1Q 15 to 22, VCC 24; 11, 13
    and 23 lead nowhere.

Function table
    ===  ====  ====  ====  ====
    /OE  /CLR  CLK   held  Q
    ===  ====  ====  ====  ====
    L    L     rise  L     L
    L    H     rise  D     D
    L    x     L, H  held  held
    H    x     x     goes on  off
    ===  ====  ====  ====  ====

Timing
    Delay from the clock; enable and disable times from /OE; /CLR has a setup like data.

Mistakes people make
    Waiting for /CLR to clear without a clock.

Sources
    Function and pins: TI SN74ALS575A SDAS165B (connection diagram and description). Figures from memory.
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip, numbered
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind, Register, Update

pins = dip("""
    /CLR:i /OE:i 1D:i 2D:i 3D:i 4D:i 5D:i 6D:i 7D:i 8D:i NC=NC11:n GND
    NC=NC13:n CLK:i 8Q:o 7Q:o 6Q:o 5Q:o 4Q:o 3Q:o 2Q:o 1Q:o NC=NC23:n VCC
""")

data = mux(variable("CLR_n"), variable("D", 8), constant(0, 8))

behaviour = Behaviour(
    registers=(Register("held", 8, (Update(variable("CLK"), data),)),),
    drives=(Drive("Q", variable("held", 8), ~variable("OE_n"), OutputKind.THREE_STATE),),
)

figures = (
    *delays("ALS", ("CLK",), "Q", both=(None, 14)),
    *delays("ALS", ("OE_n",), "Q", both=(None, 18), quantity="enable"),
    *delays("ALS", ("OE_n",), "Q", both=(None, 12), quantity="disable"),
    *remembered_times("ALS", "setup", "CLK", D=15, CLR_n=15),
    *remembered_times("ALS", "hold", "CLK", D=0, CLR_n=0),
    *remembered_pulses("ALS", CLK=16.5),
    remembered_clock("ALS", "CLK", 30),
)

entry = Entry(
    number="575",
    title="octal D register with synchronous clear and three-state outputs",
    kind="register",
    families=("ALS",),
    pins=pins,
    vectors=(("D", numbered("D", 8)), ("Q", numbered("Q", 8))),
    behaviour=behaviour,
    figures=figures,
)
