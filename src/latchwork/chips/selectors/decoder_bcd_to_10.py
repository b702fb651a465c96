"""Decimal decoder: four lines to ten.

What it does
    The output whose number stands on D, C, B, A goes low, the others are high. For 10 to 15 all stay high. With D as
    an active-low enable it is a three-to-eight decoder.

Pins
    0 to 6 1 to 7, GND 8, 7 to 9 9 to 11, D 12, C 13, B 14, A 15, VCC 16. The outputs are named Y0 to Y9 here.
    Vectors: N is A, B, C, D, lowest first; Y is Y0 .. Y9, active low although the sheet draws no bar.

Function table
    ========  =========================
    N         Y
    ========  =========================
    0 to 9    Y[N] low, the others high
    10 to 15  all high
    ========  =========================

Timing
    Through two or three levels of gates.

Mistakes people make
    Looking for an enable: D serves as one where eight outputs are enough.

Sources
    Function, pins and figures from memory of makers' data sheets (SN7442A, SN74LS42; 74HC/HCT42).
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import case, constant, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("""
    0=Y0:o 1=Y1:o 2=Y2:o 3=Y3:o 4=Y4:o 5=Y5:o 6=Y6:o GND
    7=Y7:o 8=Y8:o 9=Y9:o D:i C:i B:i A:i VCC
""")

none = constant(0x3FF, 10)
chosen = case(variable("N", 4), {number: constant(0x3FF ^ 1 << number, 10) for number in range(10)}, none)

behaviour = Behaviour(drives=(Drive("Y", chosen),))

figures = (
    *delays("", ("N",), "Y", rise=(17, 30), fall=(17, 30)),
    *delays("LS", ("N",), "Y", both=(20, 30)),
    *delays("HC", ("N",), "Y", both=(None, 30)),
    *delays("HCT", ("N",), "Y", both=(None, 35)),
)

entry = Entry(
    number="42",
    title="decimal decoder, four lines to ten",
    kind="decoder",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=(("N", ("A", "B", "C", "D")), ("Y", numbered("Y", 10, first=0))),
    behaviour=behaviour,
    figures=figures,
)
