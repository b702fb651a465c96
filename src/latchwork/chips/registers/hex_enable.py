"""Hex D register with clock enable.

What it does
    Takes the six D inputs at the rising edge of CLK while /G is low; holds while /G is high. A 377 with six bits.

Pins
    /G 1, 1Q 2, 1D 3, 2D 4, 2Q 5, 3D 6, 3Q 7, GND 8, CLK 9, 4Q 10, 4D 11, 5Q 12, 5D 13, 6D 14, 6Q 15, VCC 16.

Function table
    ==  ====  ====
    /G  CLK   Q
    ==  ====  ====
    H   rise  held
    L   rise  D
    x   L, H  held
    ==  ====  ====

Timing
    /G must be stable around the rising edge; a longer setup is asked of it than of D.

Mistakes people make
    Taking it for the 174, which has a clear where this has its enable: same package, same pins.

Sources
    Function, pins and figures from memory (SN74LS378 data sheet SDLS167).
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

pins = dip("/G:i 1Q:o 1D:i 2D:i 2Q:o 3D:i 3Q:o GND CLK:i 4Q:o 4D:i 5Q:o 5D:i 6D:i 6Q:o VCC")

figures = (
    *delays("LS", ("CLK",), "Q", rise=(17, 27), fall=(18, 27)),
    *remembered_times("LS", "setup", "CLK", D=20, G_n=25),
    *remembered_times("LS", "hold", "CLK", D=5, G_n=5),
    *remembered_pulses("LS", CLK=20),
    remembered_clock("LS", "CLK", 30),
    *delays("HC", ("CLK",), "Q", both=(None, 32)),
    *remembered_times("HC", "setup", "CLK", D=20, G_n=20),
)

entry = Entry(
    number="378",
    title="hex D register with clock enable",
    kind="register",
    families=("LS", "F", "HC"),
    pins=pins,
    vectors=(("D", numbered("D", 6)), ("Q", numbered("Q", 6))),
    behaviour=enabled(6),
    figures=figures,
)
