"""Four-to-sixteen decoder with two enables.

What it does
    The output whose number stands on D, C, B, A goes low while /G1 and /G2 are low; the others, and all of them
    while not enabled, are high.

Pins
    24 pins in a wide package: Y0 to Y10 1 to 11, GND 12, Y11 to Y15 13 to 17, /G1 18, /G2 19, D 20, C 21, B 22, A 23,
    VCC 24. Vectors: S is A, B, C, D, lowest first; Y is Y0 .. Y15, active low although the sheet draws no bar.

Function table
    ===  ===  =========================
    /G1  /G2  Y
    ===  ===  =========================
    H    x    all high
    x    H    all high
    L    L    Y[S] low, the others high
    ===  ===  =========================

Timing
    Longer from S than from the enables.

Mistakes people make
    Taking a narrow socket for it. Gating a strobe with outputs that glitch while S moves.

Sources
    Function, pins and figures from memory of makers' data sheets (SN74154, SN74LS154; 74HC/HCT154).
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import case, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("""
    Y0:o Y1:o Y2:o Y3:o Y4:o Y5:o Y6:o Y7:o Y8:o Y9:o Y10:o GND
    Y11:o Y12:o Y13:o Y14:o Y15:o /G1=G1_n:i /G2=G2_n:i D:i C:i B:i A:i VCC
""")

none = constant(0xFFFF, 16)
chosen = case(variable("S", 4), {number: constant(0xFFFF ^ 1 << number, 16) for number in range(16)}, none)
enabled = ~variable("G1_n") & ~variable("G2_n")

behaviour = Behaviour(drives=(Drive("Y", mux(enabled, chosen, none)),))

ENABLES = ("G1_n", "G2_n")

figures = (
    *delays("", ("S",), "Y", rise=(24, 36), fall=(22, 33)),
    *delays("", ENABLES, "Y", rise=(20, 30), fall=(18, 27)),
    *delays("LS", ("S",), "Y", rise=(24, 36), fall=(22, 33)),
    *delays("LS", ENABLES, "Y", rise=(20, 30), fall=(18, 27)),
    *delays("HC", ("S", *ENABLES), "Y", both=(None, 35)),
    *delays("HCT", ("S",), "Y", both=(None, 35)),
    *delays("HCT", ENABLES, "Y", both=(None, 34)),
)

entry = Entry(
    number="154",
    title="four-to-sixteen decoder",
    kind="decoder",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=(("S", ("A", "B", "C", "D")), ("Y", numbered("Y", 16, first=0))),
    behaviour=behaviour,
    figures=figures,
    width_mil=600,
)
