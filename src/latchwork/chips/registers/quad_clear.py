"""Quad D register with clear and both outputs of each bit.

What it does
    Takes the four D inputs at the rising edge of CLK; /CLR low clears all four at once. Each bit has its inverse at
    a pin of its own.

Pins
    /CLR 1, CLK 9; 1Q 2, /1Q 3, 1D 4, 2D 5, /2Q 6, 2Q 7, GND 8; 3Q 10, /3Q 11, 3D 12, 4D 13, /4Q 14, 4Q 15, VCC 16.

Function table
    ====  ====  ====  ====
    /CLR  CLK   Q     /Q
    ====  ====  ====  ====
    L     x     L     H
    H     rise  D     not D
    H     L, H  held  held
    ====  ====  ====  ====

Timing
    One delay from the clock to either output, one from /CLR.

Mistakes people make
    Swapping Q and /Q, whose order turns round between bits 1 and 2 and between 3 and 4.

Sources
    Function, pins and figures from memory (SN74LS175 data sheet SDLS068; Philips 74HC/HCT175).
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

pins = dip("/CLR:i 1Q:o /1Q:o 1D:i 2D:i /2Q:o 2Q:o GND CLK:i 3Q:o /3Q:o 3D:i 4D:i /4Q:o 4Q:o VCC")

behaviour = clearable(4, both_outputs=True)

figures = (
    *delays("LS", ("CLK",), "Q", rise=(13, 25), fall=(16, 25)),
    *delays("LS", ("CLK",), "Q_n", rise=(13, 25), fall=(16, 25)),
    *delays("LS", ("CLR_n",), "Q", fall=(23, 35)),
    *delays("LS", ("CLR_n",), "Q_n", rise=(20, 30)),
    *remembered_times("LS", "setup", "CLK", D=20),
    *remembered_times("LS", "hold", "CLK", D=5),
    *remembered_times("LS", "recovery", "CLK", CLR_n=25),
    *remembered_pulses("LS", CLK=20, CLR_n=20),
    remembered_clock("LS", "CLK", 30),
    *delays("HC", ("CLK",), "Q", both=(None, 35)),
    *delays("HC", ("CLK",), "Q_n", both=(None, 35)),
    *delays("HC", ("CLR_n",), "Q", fall=(None, 30)),
    *delays("HC", ("CLR_n",), "Q_n", rise=(None, 30)),
    *remembered_times("HC", "setup", "CLK", D=16),
    *remembered_times("HC", "hold", "CLK", D=3),
    *delays("HCT", ("CLK",), "Q", both=(None, 33)),
    *delays("HCT", ("CLK",), "Q_n", both=(None, 33)),
    *delays("HCT", ("CLR_n",), "Q", fall=(None, 38)),
    *delays("HCT", ("CLR_n",), "Q_n", rise=(None, 38)),
    *remembered_times("HCT", "setup", "CLK", D=16),
    *remembered_times("HCT", "hold", "CLK", D=5),
)

entry = Entry(
    number="175",
    title="quad D register with clear and both outputs",
    kind="register",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("D", numbered("D", 4)), ("Q", numbered("Q", 4)), ("Q_n", numbered("Q", 4, end="_n"))),
    behaviour=behaviour,
    figures=figures,
)
