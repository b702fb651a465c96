"""Priority encoder of eight lines to three, all active low, that can be chained.

What it does
    While /EI is low it gives the number of the highest low input, each bit inverted, and pulls /GS low where there is
    one; where there is none /EO goes low and lets the next package of lower rank speak. While /EI is high all
    outputs are high.

Pins
    /4 to /7 1 to 4, /EI 5, /A2 6, /A1 7, GND 8, /A0 9, /0 to /3 10 to 13, /GS 14, /EO 15, VCC 16.
    The inputs are named I0_n to I7_n here. Vectors: I_n is I0_n .. I7_n; A_n is A0_n, A1_n, A2_n, lowest first.

Function table
    ===  ===================  ============================  ===  ===
    /EI  inputs               A2 A1 A0                      /GS  /EO
    ===  ===================  ============================  ===  ===
    H    x                    H H H                         H    H
    L    all H                H H H                         H    L
    L    n the highest low    the bits of n, inverted       L    H
    ===  ===================  ============================  ===  ===

Timing
    Different for each way through it; the chain runs from /EI to /EO.

Mistakes people make
    Taking H H H for input 0 without a look at /GS. Using /GS as a clock: it glitches when /EI falls.

Sources
    Function and HC delays from the inputs to A and /EO: TI SN74HC148 SCLS109H. TTL delays: TI SDLS053B p.9. Pins:
    Motorola SN54/74LS148, connection diagram. Other figures from memory (SN74LS148 SDLS053).
"""

from latchwork.chips.figures import LIGHT, delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import all_of, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("""
    /4=I4_n:i /5=I5_n:i /6=I6_n:i /7=I7_n:i /EI:i /A2:o /A1:o GND
    /A0:o /0=I0_n:i /1=I1_n:i /2=I2_n:i /3=I3_n:i /GS:o /EO:o VCC
""")

inputs, off = variable("I_n", 8), variable("EI_n")
none = all_of(inputs)

code = constant(0, 3)
for number in range(1, 8):
    code = mux(inputs[number], code, constant(number, 3))

behaviour = Behaviour(
    drives=(
        Drive("A_n", ~code | off.repeat(3)),
        Drive("GS_n", off | none),
        Drive("EO_n", off | ~none),
    )
)

TEXAS_148 = "TI SN54148, SN74148 SDLS053B p.9"
TEXAS, USUAL = "TI SN74HC148 SCLS109H", "4.5 V, 25 degC, 50 pF"

figures = (
    *delays("LS", ("I_n",), "A_n", rise=(20, 36), fall=(16, 29)),
    *delays("LS", ("I_n",), "EO_n", rise=(7, 18), fall=(25, 40)),
    *delays("LS", ("I_n",), "GS_n", rise=(35, 55), fall=(9, 21)),
    *delays("LS", ("EI_n",), "A_n", rise=(16, 25), fall=(12, 25)),
    *delays("LS", ("EI_n",), "GS_n", rise=(12, 17), fall=(14, 36)),
    *delays("LS", ("EI_n",), "EO_n", rise=(12, 21), fall=(23, 35)),
    *delays("", ("I_n",), "A_n", rise=(13, 19), fall=(12, 19), source=TEXAS_148, conditions=LIGHT),
    *delays("", ("I_n",), "EO_n", rise=(6, 10), fall=(14, 25), source=TEXAS_148, conditions=LIGHT),
    *delays("", ("I_n",), "GS_n", rise=(18, 30), fall=(14, 25), source=TEXAS_148, conditions=LIGHT),
    *delays("", ("EI_n",), "A_n", rise=(10, 15), fall=(10, 15), source=TEXAS_148, conditions=LIGHT),
    *delays("", ("EI_n",), "GS_n", rise=(8, 12), fall=(10, 15), source=TEXAS_148, conditions=LIGHT),
    *delays("", ("EI_n",), "EO_n", rise=(10, 15), fall=(17, 30), source=TEXAS_148, conditions=LIGHT),
    *delays("HC", ("I_n",), "A_n", both=(23, 36), source=TEXAS, conditions=USUAL),
    *delays("HC", ("I_n",), "EO_n", both=(20, 30), source=TEXAS, conditions=USUAL),
    *delays("HC", ("I_n",), "GS_n", both=(None, 38)),
    *delays("HC", ("EI_n",), "A_n", both=(None, 39)),
    *delays("HC", ("EI_n",), "GS_n", both=(None, 29)),
    *delays("HC", ("EI_n",), "EO_n", both=(None, 39)),
)

entry = Entry(
    number="148",
    title="priority encoder, eight lines to three",
    kind="encoder",
    families=("", "LS", "F", "HC"),
    pins=pins,
    vectors=(("I_n", numbered("I", 8, first=0, end="_n")), ("A_n", numbered("A", 3, first=0, end="_n"))),
    behaviour=behaviour,
    figures=figures,
)
