"""Quad D register with clock enable, clear and three-state outputs.

What it does
    Takes the four D inputs at the rising edge of CLK while /G1 and /G2 are low; holds while one of them is high.
    CLR high clears at once. The outputs drive while M and N are low; the register works on while they don't.

Pins
    M 1, N 2, 1Q to 4Q 3 to 6, CLK 7, GND 8, /G1 9, /G2 10, 4D to 1D 11 to 14 (downwards), CLR 15, VCC 16.

Function table
    ===  ===  ===  ====  ====
    CLR  /G1  /G2  CLK   held
    ===  ===  ===  ====  ====
    H    x    x    x     L
    L    H    x    rise  held
    L    x    H    rise  held
    L    L    L    rise  D
    L    x    x    L, H  held
    ===  ===  ===  ====  ====

    The outputs show what is held while M = N = L and are off while M or N is H.

Timing
    The enables need a longer setup than data: 35 ns against 17 ns in LS.

Mistakes people make
    Taking M and N for active-high enables: they carry no bar on many sheets and are active low all the same. CLR is
    active high, unlike that of most registers.

Sources
    Function: Philips 74HC/HCT173 Dec 1990. HC delays from clock and clear,
    pulses and setup: TI CD74HC173 SCHS158F. Pins and other figures from memory.
"""

from latchwork.chips.figures import (
    LIGHT,
    LOADED,
    clock_limit,
    delays,
    pulses,
    remembered_pulses,
    remembered_times,
    times,
)
from latchwork.chips.pins import dip, numbered
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

pins = dip("M:i N:i 1Q:o 2Q:o 3Q:o 4Q:o CLK:i GND /G1:i /G2:i 4D:i 3D:i 2D:i 1D:i CLR:i VCC")

clock, clear, data, held = variable("CLK"), variable("CLR"), variable("D", 4), variable("held", 4)
hold = variable("G1_n") | variable("G2_n")
shown = ~(variable("M") | variable("N"))

behaviour = Behaviour(
    registers=(Register("held", 4, (Update(clock, mux(hold, held, data)),), (Level(clear, constant(0, 4)),)),),
    drives=(Drive("Q", held, shown, OutputKind.THREE_STATE),),
)

TEXAS = "TI CD74HC173 SCHS158F, switching characteristics and prerequisites"

figures = (
    *delays("LS", ("CLK",), "Q", rise=(None, 25), fall=(None, 30)),
    *delays("LS", ("CLR",), "Q", fall=(26, 35)),
    *delays("LS", "MN", "Q", rise=(15, 23), fall=(18, 27), quantity="enable"),
    *delays("LS", "MN", "Q", both=(11, 20), quantity="disable"),
    *remembered_times("LS", "setup", "CLK", D=17, G1_n=35, G2_n=35),
    *remembered_times("LS", "hold", "CLK", D=3, G1_n=0, G2_n=0),
    *remembered_pulses("LS", CLK=25, CLR=25),
    *delays("", ("CLK",), "Q", rise=(28, 43), fall=(19, 31)),
    *delays("", ("CLR",), "Q", fall=(18, 27)),
    *delays("", "MN", "Q", rise=(16, 30), fall=(21, 30), quantity="enable"),
    *delays("", "MN", "Q", both=(11, 20), quantity="disable"),
    *delays("HC", ("CLK",), "Q", both=(None, 40), source=TEXAS, conditions=LOADED),
    *delays("HC", ("CLK",), "Q", both=(17, None), source=TEXAS, conditions=LIGHT),
    *delays("HC", ("CLR",), "Q", fall=(None, 35), source=TEXAS, conditions=LOADED),
    *delays("HC", ("CLR",), "Q", fall=(12, None), source=TEXAS, conditions=LIGHT),
    *delays("HC", "MN", "Q", both=(None, 30), quantity="enable"),
    *delays("HC", "MN", "Q", both=(None, 30), quantity="disable"),
    *times("HC", "setup", "CLK", TEXAS, LOADED, D=12, G1_n=12, G2_n=12),
    *pulses("HC", TEXAS, LOADED, CLK=16, CLR=16),
    clock_limit("HC", "CLK", TEXAS, least=30, conditions=LOADED),
    *delays("HCT", ("CLK",), "Q", both=(None, 40)),
    *delays("HCT", ("CLR",), "Q", fall=(None, 37)),
    *delays("HCT", "MN", "Q", both=(None, 35), quantity="enable"),
    *delays("HCT", "MN", "Q", both=(None, 30), quantity="disable"),
    *remembered_times("HCT", "setup", "CLK", D=12, G1_n=22, G2_n=22),
)

entry = Entry(
    number="173",
    title="quad D register with clock enable, clear and three-state outputs",
    kind="register",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=(("D", numbered("D", 4)), ("Q", numbered("Q", 4))),
    behaviour=behaviour,
    figures=figures,
)
