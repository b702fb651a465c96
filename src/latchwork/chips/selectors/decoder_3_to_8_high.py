"""Three-to-eight decoder with three enables and active-high outputs.

What it does
    The output whose number stands on C, B, A goes high while G1 is high and /G2A and /G2B are low; the others, and
    all of them while not enabled, are low. A 138 with its outputs inverted.

Pins
    As the 138: A, B, C 1 to 3, /G2A 4, /G2B 5, G1 6, Y7 7, GND 8, Y6 to Y0 9 to 15, VCC 16.
    Vectors: S is A, B, C, lowest first; Y is Y0 .. Y7.

Function table
    ==  ====  ====  =========================
    G1  /G2A  /G2B  Y
    ==  ====  ====  =========================
    L   x     x     all low
    x   H     x     all low
    x   x     H     all low
    H   L     L     Y[S] high, the others low
    ==  ====  ====  =========================

Timing
    As a 138.

Mistakes people make
    Putting it where active-low chip selects are needed: it looks like a 138 in every other respect.

Sources
    Function and HC delay from S: TI CD74HC238 SCHS147J. Pins as those of the 138. Other figures from memory.
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import numbered
from latchwork.chips.selectors.decoder_3_to_8 import enabled, pins, select
from latchwork.logic import case, constant, mux
from latchwork.parts import Behaviour, Drive, Entry

none = constant(0, 8)
chosen = case(select, {number: constant(1 << number, 8) for number in range(8)}, none)

behaviour = Behaviour(drives=(Drive("Y", mux(enabled, chosen, none)),))

TEXAS = "TI CD74HC238 SCHS147J"
ENABLES = ("G1", "G2A_n", "G2B_n")

figures = (
    *delays("HC", ("S",), "Y", both=(None, 30), source=TEXAS, conditions="4.5 V, 25 degC, 50 pF"),
    *delays("HC", ("S",), "Y", both=(13, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HC", ENABLES, "Y", both=(None, 32)),
    *delays("HCT", ("S",), "Y", both=(None, 35)),
    *delays("HCT", ENABLES, "Y", both=(None, 37)),
)

entry = Entry(
    number="238",
    title="three-to-eight decoder, active-high outputs",
    kind="decoder",
    families=("HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("S", ("A", "B", "C")), ("Y", numbered("Y", 8, first=0))),
    behaviour=behaviour,
    figures=figures,
)
