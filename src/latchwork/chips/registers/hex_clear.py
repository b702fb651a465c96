"""Hex D register with clear.

What it does
    Takes the six D inputs at the rising edge of CLK; /CLR low clears all six at once.

Pins
    /CLR 1, CLK 9; 1Q 2, 1D 3, 2D 4, 2Q 5, 3D 6, 3Q 7, GND 8; 4Q 10, 4D 11, 5Q 12, 5D 13, 6D 14, 6Q 15, VCC 16.

Function table
    ====  ====  ====
    /CLR  CLK   Q
    ====  ====  ====
    L     x     L
    H     rise  D
    H     L, H  held
    ====  ====  ====

Timing
    One delay from the clock, one from /CLR, which is the longer one in LS.

Mistakes people make
    Expecting a clock enable: it takes at every edge. The order of D and Q pins changes along the package.

Sources
    Function, pins and figures from memory (SN74LS174 data sheet SDLS068; Philips 74HC/HCT174).
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip, numbered
from latchwork.chips.registers.clearable import clearable
from latchwork.parts import Entry

pins = dip("/CLR:i 1Q:o 1D:i 2D:i 2Q:o 3D:i 3Q:o GND CLK:i 4Q:o 4D:i 5Q:o 5D:i 6D:i 6Q:o VCC")

behaviour = clearable(6)

figures = (
    *delays("LS", ("CLK",), "Q", rise=(20, 30), fall=(21, 30)),
    *delays("LS", ("CLR_n",), "Q", fall=(23, 35)),
    *remembered_times("LS", "setup", "CLK", D=20),
    *remembered_times("LS", "hold", "CLK", D=5),
    *remembered_times("LS", "recovery", "CLK", CLR_n=25),
    *remembered_pulses("LS", CLK=20, CLR_n=20),
    remembered_clock("LS", "CLK", 30),
    *delays("HC", ("CLK",), "Q", both=(None, 33)),
    *delays("HC", ("CLR_n",), "Q", fall=(None, 30)),
    *remembered_times("HC", "setup", "CLK", D=12),
    *remembered_times("HC", "hold", "CLK", D=3),
    *delays("HCT", ("CLK",), "Q", both=(None, 35)),
    *delays("HCT", ("CLR_n",), "Q", fall=(None, 35)),
    *remembered_times("HCT", "setup", "CLK", D=16),
    *remembered_times("HCT", "hold", "CLK", D=5),
)

entry = Entry(
    number="174",
    title="hex D register with clear",
    kind="register",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("D", numbered("D", 6)), ("Q", numbered("Q", 6))),
    behaviour=behaviour,
    figures=figures,
)
