"""Octal D register with clock enable.

What it does
    Takes the eight D inputs at the rising edge of CLK while /G is low; holds while /G is high. No clear, outputs
    always drive.

Pins
    377: /G 1, CLK 11, D and Q pairs along both sides, GND 10, VCC 20.

Function table
    ==  ====  =========
    /G  CLK   Q
    ==  ====  =========
    H   rise  held
    L   rise  D
    x   L, H  held
    ==  ====  =========

Timing
    /G must be stable around the rising edge like data; a longer setup is asked of it than of D.

Mistakes people make
    Gating the clock instead of using /G; taking the 373 (latch) or 374 (three-state) for it: same package, nearly
    the same pins, other function.

Sources
    Function: SN74LS377 data sheet SDLS167, from memory. Pins: the same, from memory.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Register, Update

pins = dip("""
    /G:i 1Q:o 1D:i 2D:i 2Q:o 3Q:o 3D:i 4D:i 4Q:o GND
    CLK:i 5Q:o 5D:i 6D:i 6Q:o 7Q:o 7D:i 8D:i 8Q:o VCC
""")

clock, hold, data, held = variable("CLK"), variable("G_n"), variable("D", 8), variable("held", 8)

behaviour = Behaviour(
    registers=(Register("held", 8, (Update(clock, mux(hold, held, data)),)),),
    drives=(Drive("Q", held),),
)

figures = (
    remembered("LS", "delay", "CLK", "Q", edge="rise", typical=17, maximum=27, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "Q", edge="fall", typical=18, maximum=27, conditions=MEMORY_CONDITIONS),
    remembered("LS", "setup", "D", "CLK", minimum=20, conditions=MEMORY_CONDITIONS),
    remembered("LS", "setup", "G_n", "CLK", minimum=25, conditions=MEMORY_CONDITIONS),
    remembered("LS", "hold", "D", "CLK", minimum=5, conditions=MEMORY_CONDITIONS),
    remembered("HC", "delay", "CLK", "Q", maximum=32, conditions=MEMORY_CONDITIONS),
    remembered("HC", "setup", "D", "CLK", minimum=12, conditions=MEMORY_CONDITIONS),
    remembered("HC", "setup", "G_n", "CLK", minimum=12, conditions=MEMORY_CONDITIONS),
    remembered("HC", "hold", "D", "CLK", minimum=3, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "CLK", "Q", maximum=32, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "setup", "D", "CLK", minimum=12, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "setup", "G_n", "CLK", minimum=22, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "hold", "D", "CLK", minimum=2, conditions=MEMORY_CONDITIONS),
)

entry = Entry(
    number="377",
    title="octal D register with clock enable",
    kind="register",
    families=("LS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT"),
    pins=pins,
    vectors=(("D", numbered("D", 8)), ("Q", numbered("Q", 8))),
    behaviour=behaviour,
    figures=figures,
)
