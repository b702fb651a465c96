"""Priority encoder of nine lines to a decimal number, all active low.

What it does
    Gives the number of the highest low input, each bit inverted. With no input low it gives zero (all outputs high);
    there is no input for zero.

Pins
    /4 to /8 1 to 5, /C 6, /B 7, GND 8, /A 9, /9 10, /1 11, /2 12, /3 13, /D 14, pin 15 leads nowhere, VCC 16.
    The inputs are named I1_n to I9_n here. Vectors: I_n is I1_n .. I9_n; Y_n is A_n, B_n, C_n, D_n, lowest first.

Function table
    ===================  ==================
    highest low input    D C B A (inverted)
    ===================  ==================
    9                    L H H L
    8                    L H H H
    7                    H L L L
    n                    the bits of n, inverted
    none                 H H H H
    ===================  ==================

Timing
    Longer where an output moves against its input than where it moves with it.

Mistakes people make
    Reading the outputs as they are: they are inverted. Telling key 0 from no key: it cannot.

Sources
    Function: Motorola SN54/74LS147 (description) and TI CD74HC147 SCHS149G (overview). Pins: Motorola, connection
    diagram. Figures from memory.
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("""
    /4=I4_n:i /5=I5_n:i /6=I6_n:i /7=I7_n:i /8=I8_n:i /C:o /B:o GND
    /A:o /9=I9_n:i /1=I1_n:i /2=I2_n:i /3=I3_n:i /D:o NC=NC15:n VCC
""")

code = constant(0, 4)
for number in range(1, 10):
    code = mux(variable("I_n", 9)[number - 1], code, constant(number, 4))

behaviour = Behaviour(drives=(Drive("Y_n", ~code),))

figures = (
    *delays("", ("I_n",), "Y_n", rise=(13, 19), fall=(12, 19)),
    *delays("LS", ("I_n",), "Y_n", rise=(21, 33), fall=(15, 23)),
    *delays("HC", ("I_n",), "Y_n", both=(None, 32)),
    *delays("HCT", ("I_n",), "Y_n", both=(None, 35)),
)

entry = Entry(
    number="147",
    title="priority encoder, nine lines to a decimal number",
    kind="encoder",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=(("I_n", numbered("I", 9, end="_n")), ("Y_n", ("A_n", "B_n", "C_n", "D_n"))),
    behaviour=behaviour,
    figures=figures,
)
