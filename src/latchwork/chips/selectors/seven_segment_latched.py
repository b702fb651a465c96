"""Decoder from a decimal digit to seven segments with a latch, active high.

What it does
    While LE is low the latch follows D, C, B, A; LE high keeps the digit. The segments a to g draw it; above 9 all
    stay dark. /LT low lights all and wins; /BL low darkens all.

Pins
    B 1, C 2, /LT 3, /BL 4, LE 5, D 6, A 7, GND 8, e 9, d 10, c 11, b 12, a 13, g 14, f 15, VCC 16.
    Vectors: N is A, B, C, D, lowest first; segments is a .. g.

Function table
    ===  ===  ==========  =================================
    /LT  /BL  digit kept  lit
    ===  ===  ==========  =================================
    L    x    x           a b c d e f g
    H    L    x           none
    H    H    0           a b c d e f
    H    H    1           b c
    H    H    2           a b d e g
    H    H    3           a b c d g
    H    H    4           b c f g
    H    H    5           a c d f g
    H    H    6           c d e f g
    H    H    7           a b c
    H    H    8           a b c d e f g
    H    H    9           a b c f g
    H    H    10 to 15    none
    ===  ===  ==========  =================================

Timing
    Delays from the digit, LE, /BL and /LT; setup and hold around the rising edge of LE.

Mistakes people make
    Leaving LE open or high, so that the digit never changes. Leaving out the resistors in front of the segments.

Sources
    Outputs sourcing current: TI CD74HC4511 SCHS279E (features). Function, pins and other figures from memory.
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times, stated
from latchwork.chips.pins import dip
from latchwork.chips.selectors.seven_segment import LIT, SEGMENTS, mask
from latchwork.logic import case, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Latch

pins = dip("""
    B:i C:i /LT:i /BL:i LE:i D:i A:i GND
    e:o d:o c:o b:o a:o g:o f:o VCC
""")

dark, all_lit = constant(0, 7), constant(0x7F, 7)
drawn = case(variable("digit", 4), {number: constant(mask(lit), 7) for number, lit in enumerate(LIT[:10])}, dark)
shown = mux(variable("LT_n"), mux(variable("BL_n"), drawn, dark), all_lit)

behaviour = Behaviour(
    latches=(Latch("digit", 4, ~variable("LE"), variable("N", 4)),),
    drives=(Drive("segments", shown),),
)

figures = (
    *delays("HC", ("N",), "segments", both=(None, 60)),
    *delays("HC", ("LE",), "segments", both=(None, 54)),
    *delays("HC", ("BL_n",), "segments", both=(None, 44)),
    *delays("HC", ("LT_n",), "segments", both=(None, 32)),
    *remembered_times("HC", "setup", "LE", N=12),
    *remembered_times("HC", "hold", "LE", N=3),
    *remembered_pulses("HC", LE=16),
    *delays("HCT", ("N",), "segments", both=(None, 60)),
    *delays("HCT", ("LE",), "segments", both=(None, 54)),
    *delays("HCT", ("BL_n",), "segments", both=(None, 44)),
    *delays("HCT", ("LT_n",), "segments", both=(None, 33)),
    stated(
        "HCT",
        "output current high",
        end="segments",
        unit="mA",
        maximum=-7.5,
        source="TI CD74HCT4511 SCHS279E (features)",
        conditions="4.5 V",
    ),
)

entry = Entry(
    number="4511",
    title="seven-segment decoder with latch, active high",
    kind="decoder",
    families=("HC", "HCT"),
    pins=pins,
    vectors=(("N", ("A", "B", "C", "D")), ("segments", tuple(SEGMENTS))),
    behaviour=behaviour,
    figures=figures,
)
