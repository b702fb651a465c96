"""Quad D register with clock enable and both outputs of each bit.

What it does
    Takes the four D inputs at the rising edge of CLK while /G is low; holds while /G is high. Each bit has its
    inverse at a pin of its own.

Pins
    /G 1, 1Q 2, /1Q 3, 1D 4, 2D 5, /2Q 6, 2Q 7, GND 8, CLK 9, 3Q 10, /3Q 11, 3D 12, 4D 13, /4Q 14, 4Q 15, VCC 16.

Function table
    ==  ====  ====  =====
    /G  CLK   Q     /Q
    ==  ====  ====  =====
    H   rise  held  held
    L   rise  D     not D
    x   L, H  held  held
    ==  ====  ====  =====

Timing
    /G must be stable around the rising edge; a longer setup is asked of it than of D.

Mistakes people make
    Taking it for the 175, which has a clear where this has its enable: same package, same pins.

Sources
    Function, pins and figures from memory (SN74LS379 data sheet SDLS167).
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip, numbered
from latchwork.chips.registers.enabled import enabled
from latchwork.parts import Entry

pins = dip("/G:i 1Q:o /1Q:o 1D:i 2D:i /2Q:o 2Q:o GND CLK:i 3Q:o /3Q:o 3D:i 4D:i /4Q:o 4Q:o VCC")

figures = (
    *delays("LS", ("CLK",), "Q", rise=(17, 27), fall=(18, 27)),
    *delays("LS", ("CLK",), "Q_n", rise=(17, 27), fall=(18, 27)),
    *remembered_times("LS", "setup", "CLK", D=20, G_n=25),
    *remembered_times("LS", "hold", "CLK", D=5, G_n=5),
    *remembered_pulses("LS", CLK=20),
    remembered_clock("LS", "CLK", 30),
)

entry = Entry(
    number="379",
    title="quad D register with clock enable and both outputs",
    kind="register",
    families=("LS", "F", "HC"),
    pins=pins,
    vectors=(("D", numbered("D", 4)), ("Q", numbered("Q", 4)), ("Q_n", numbered("Q", 4, end="_n"))),
    behaviour=enabled(4, both_outputs=True),
    figures=figures,
)
