"""Quad two-input selectors: outputs low (157) or let go (257) while not enabled.

What it does
    All four outputs show A while S is low, B while S is high. While /G is high the outputs of the 157 are low, those
    of the 257 drive nothing.

Pins
    157, 257: S 1, 1A 2, 1B 3, 1Y 4, 2A 5, 2B 6, 2Y 7, GND 8, 3Y 9, 3B 10, 3A 11, 4Y 12, 4B 13, 4A 14, /G 15, VCC 16.
    Vectors: A is A1 .. A4, B is B1 .. B4, Y is Y1 .. Y4.

Function table
    ==  =  ========  ========
    /G  S  157: Y    257: Y
    ==  =  ========  ========
    H   x  L         let go
    L   L  A         A
    L   H  B         B
    ==  =  ========  ========

Timing
    Longer from S than from the data; the 257 has enable and disable times from /G.

Mistakes people make
    Putting a 157 on a bus: its outputs always drive. Taking the 158 or 258, which invert.

Sources
    HD74LS157 REJ03D0442 (157: function, pins); LS157 delays: National DM74LS157 p.4. 257: SN74LS257B
    data sheet, all from memory; its function table is checked against an integer model.
"""

from latchwork.chips.figures import LIGHT, MEMORY_CONDITIONS, delays, remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

pins = dip("S:i 1A:i 1B:i 1Y:o 2A:i 2B:i 2Y:o GND 3Y:o 3B:i 3A:i 4Y:o 4B:i 4A:i /G:i VCC")

disabled = variable("G_n")
chosen = mux(variable("S"), variable("B", 4), variable("A", 4))

behaviour_157 = Behaviour(drives=(Drive("Y", mux(disabled, constant(0, 4), chosen)),))
behaviour_257 = Behaviour(drives=(Drive("Y", chosen, ~disabled, OutputKind.THREE_STATE),))

NATIONAL = "National DM74LS157, DM74LS158 p.4 (5 V, 25 degC)"

figures_157 = (
    *delays("LS", "AB", "Y", rise=(None, 14), fall=(None, 14), source=NATIONAL, conditions=LIGHT),
    *delays("LS", ("G_n",), "Y", rise=(None, 20), fall=(None, 21), source=NATIONAL, conditions=LIGHT),
    *delays("LS", ("S",), "Y", rise=(None, 23), fall=(None, 27), source=NATIONAL, conditions=LIGHT),
    remembered("HC", "delay", "A", "Y", maximum=25, conditions=MEMORY_CONDITIONS),
    remembered("HC", "delay", "B", "Y", maximum=25, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "A", "Y", maximum=27, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "B", "Y", maximum=27, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "G_n", "Y", maximum=26, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "S", "Y", maximum=37, conditions=MEMORY_CONDITIONS),
)
figures_257 = (
    remembered("LS", "delay", "A", "Y", maximum=15, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "B", "Y", maximum=15, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "S", "Y", edge="rise", maximum=21, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "S", "Y", edge="fall", maximum=24, conditions=MEMORY_CONDITIONS),
    remembered("LS", "enable", "G_n", "Y", maximum=30, conditions=MEMORY_CONDITIONS),
    remembered("LS", "disable", "G_n", "Y", maximum=30, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "A", "Y", maximum=30, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "B", "Y", maximum=30, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "S", "Y", maximum=35, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "enable", "G_n", "Y", maximum=30, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "disable", "G_n", "Y", maximum=30, conditions=MEMORY_CONDITIONS),
)

always_driving = Entry(
    number="157",
    title="quad two-input selector",
    kind="selector",
    families=("", "LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("A", numbered("A", 4)), ("B", numbered("B", 4)), ("Y", numbered("Y", 4))),
    behaviour=behaviour_157,
    figures=figures_157,
)
entries = (
    always_driving,
    always_driving.renamed(
        "257",
        title="quad two-input selector, three-state",
        families=("LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
        behaviour=behaviour_257,
        figures=figures_257,
    ),
)
