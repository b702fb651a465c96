"""Decoders from a decimal digit to seven segments: active-low open-collector (47), active-high (48).

What it does
    Light the segments a to g that draw the digit on D, C, B, A; 10 to 14 give special signs, 15 nothing. /LT low
    lights all; /BI low darkens all and wins. While /RBI is low a zero stays dark and /BI//RBO is pulled low: joined
    to /RBI of the next digit it suppresses leading zeros.

Pins
    B 1, C 2, /LT 3, /BI//RBO 4 (here BI_RBO_n), /RBI 5, D 6, A 7, GND 8, e 9, d 10, c 11, b 12, a 13, g 14, f 15,
    VCC 16. Segments of the 47 are active low. Vectors: N is A, B, C, D, lowest first; segments is a .. g.

Function table
    =======  ===  ====  =======  =================================
    /BI      /LT  /RBI  N        lit
    =======  ===  ====  =======  =================================
    L        x    x     x        none
    H        L    x     x        a b c d e f g
    x        H    L     0        none, and /RBO pulled low
    H        H    H     0        a b c d e f
    H        H    x     1        b c
    H        H    x     2        a b d e g
    H        H    x     3        a b c d g
    H        H    x     4        b c f g
    H        H    x     5        a c d f g
    H        H    x     6        c d e f g
    H        H    x     7        a b c
    H        H    x     8        a b c d e f g
    H        H    x     9        a b c f g
    H        H    x     10       d e g
    H        H    x     11       c d g
    H        H    x     12       b f g
    H        H    x     13       a d f g
    H        H    x     14       d e f g
    H        H    x     15       none
    =======  ===  ====  =======  =================================

Timing
    Slow: a hundred nanoseconds; made for eyes.

Mistakes people make
    Driving a common-cathode digit with a 47, which wants common anode. Leaving out the resistors in front of the
    segments. Tying /BI//RBO hard high where it should pull low itself: it is input and output in one.

Sources
    Function, pins and figures from memory of makers' data sheets (SN7447A, SN74LS47, SN7448, SN74LS48).
"""

from latchwork.chips.figures import delays, remembered
from latchwork.chips.pins import dip
from latchwork.logic import case, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

pins = dip("""
    B:i C:i /LT:i /BI//RBO=BI_RBO_n:b /RBI:i D:i A:i GND
    e:o d:o c:o b:o a:o g:o f:o VCC
""")

SEGMENTS = "abcdefg"
LIT = (
    *("abcdef", "bc", "abdeg", "abcdg", "bcfg", "acdfg", "cdefg", "abc", "abcdefg", "abcfg"),
    *("deg", "cdg", "bfg", "adfg", "defg", ""),
)

digit, test = variable("N", 4), ~variable("LT_n")
zero = digit.equals(0) & ~variable("RBI_n") & ~test


def mask(lit: str) -> int:
    """Segment a in the lowest bit."""
    return sum(1 << SEGMENTS.index(letter) for letter in lit)


drawn = case(digit, {number: constant(mask(lit), 7) for number, lit in enumerate(LIT[:15])}, constant(0, 7))
dark = ~variable("BI_RBO_n") | zero
shown = mux(dark, constant(0, 7), mux(test, constant(0x7F, 7), drawn))
ripple = Drive("BI_RBO_n", ~zero, None, OutputKind.OPEN_COLLECTOR)

low = Behaviour(drives=(Drive("segments", ~shown, None, OutputKind.OPEN_COLLECTOR), ripple))
high = Behaviour(drives=(Drive("segments", shown), ripple))

figures = (
    *delays("", ("N", "RBI_n", "LT_n", "BI_RBO_n"), "segments", both=(None, 100)),
    *delays("", ("N", "RBI_n", "LT_n"), "BI_RBO_n", both=(None, 100)),
    *delays("LS", ("N", "RBI_n", "LT_n", "BI_RBO_n"), "segments", both=(None, 100)),
    *delays("LS", ("N", "RBI_n", "LT_n"), "BI_RBO_n", both=(None, 100)),
)

sinking = Entry(
    number="47",
    title="seven-segment decoder, active low, open collector",
    kind="decoder",
    families=("", "LS"),
    pins=pins,
    vectors=(("N", ("A", "B", "C", "D")), ("segments", tuple(SEGMENTS))),
    behaviour=low,
    figures=(
        *figures,
        remembered("", "output current low", end="segments", unit="mA", maximum=40),
        remembered("LS", "output current low", end="segments", unit="mA", maximum=24),
    ),
)

entries = (
    sinking,
    sinking.renamed("48", title="seven-segment decoder, active high", behaviour=high, figures=figures),
)
