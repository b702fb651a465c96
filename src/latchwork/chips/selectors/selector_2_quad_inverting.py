"""Quad two-input selectors with inverted outputs: high (158) or let go (258) while not enabled.

What it does
    All four outputs show the inverse of A while S is low, of B while S is high. While /G is high the outputs of the
    158 are high, those of the 258 drive nothing.

Pins
    As the 157: S 1, 1A 2, 1B 3, 1Y 4, 2A 5, 2B 6, 2Y 7, GND 8, 3Y 9, 3B 10, 3A 11, 4Y 12, 4B 13, 4A 14, /G 15,
    VCC 16. Vectors: A is A1 .. A4, B is B1 .. B4, Y is Y1 .. Y4.

Function table
    ==  =  ========  ========
    /G  S  158: Y    258: Y
    ==  =  ========  ========
    H   x  H         let go
    L   L  not A     not A
    L   H  not B     not B
    ==  =  ========  ========

Timing
    A little faster than the 157 and 257: one inverter less.

Mistakes people make
    Taking them for 157 and 257: same pins, inverted outputs.

Sources
    Function, pins and figures from memory of makers' data sheets (SN74LS158, SN74LS258B; 74HC/HCT158, 258).
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import numbered
from latchwork.chips.selectors.selector_2_quad import chosen, disabled, pins
from latchwork.logic import constant, mux
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

behaviour_158 = Behaviour(drives=(Drive("Y", mux(disabled, constant(0xF, 4), ~chosen)),))
behaviour_258 = Behaviour(drives=(Drive("Y", ~chosen, ~disabled, OutputKind.THREE_STATE),))

DATA = ("A", "B")

figures_158 = (
    *delays("LS", DATA, "Y", rise=(7, 12), fall=(10, 15)),
    *delays("LS", ("G_n",), "Y", rise=(11, 17), fall=(18, 24)),
    *delays("LS", ("S",), "Y", rise=(13, 20), fall=(16, 24)),
    *delays("S", DATA, "Y", both=(4, 6)),
    *delays("S", ("G_n",), "Y", rise=(6.5, 11.5), fall=(7, 12)),
    *delays("S", ("S",), "Y", both=(8, 12)),
    *delays("HC", DATA, "Y", both=(None, 25)),
    *delays("HC", ("G_n", "S"), "Y", both=(None, 29)),
)
figures_258 = (
    *delays("LS", DATA, "Y", rise=(None, 12), fall=(None, 17)),
    *delays("LS", ("S",), "Y", rise=(14, 21), fall=(16, 24)),
    *delays("LS", ("G_n",), "Y", both=(20, 30), quantity="enable"),
    *delays("LS", ("G_n",), "Y", both=(16, 30), quantity="disable"),
    *delays("HC", (*DATA, "S"), "Y", both=(None, 30)),
    *delays("HC", ("G_n",), "Y", both=(None, 30), quantity="enable"),
    *delays("HC", ("G_n",), "Y", both=(None, 30), quantity="disable"),
)

always_driving = Entry(
    number="158",
    title="quad two-input selector, inverted",
    kind="selector",
    families=("LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT"),
    pins=pins,
    vectors=(("A", numbered("A", 4)), ("B", numbered("B", 4)), ("Y", numbered("Y", 4))),
    behaviour=behaviour_158,
    figures=figures_158,
)

entries = (
    always_driving,
    always_driving.renamed(
        "258",
        title="quad two-input selector, inverted, three-state",
        families=("LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT"),
        behaviour=behaviour_258,
        figures=figures_258,
    ),
)
