"""Nine-bit parity generator and checker.

What it does
    EVEN is high while an even number of the nine inputs are high; ODD is its inverse.

Pins
    280: G 1, H 2, NC 3, I 4, EVEN 5, ODD 6, GND 7, A 8, B 9, C 10, D 11, E 12, F 13, VCC 14. The vector DATA is A to I.

Function table
    ======================  ====  ===
    inputs that are high    EVEN  ODD
    ======================  ====  ===
    0, 2, 4, 6, 8           H     L
    1, 3, 5, 7, 9           L     H
    ======================  ====  ===

Timing
    One delay from any input to either output.

Mistakes people make
    Leaving the ninth input open. Exchanging the outputs: with a parity bit from EVEN, the ten bits have odd parity.

Sources
    SN74LS280 data sheet SDLS152, 74HC280: function, pins and figures from memory; power capacitance as published for
    the 74HC280 package.
"""

from latchwork.chips.figures import delays, stated
from latchwork.chips.pins import dip
from latchwork.logic import parity, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("G:i H:i NC:n I:i EVEN:o ODD:o GND A:i B:i C:i D:i E:i F:i VCC")

odd = parity(variable("DATA", 9))

_PUBLISHED = "a 74HC280 data sheet (maker not noted)"

figures = (
    *delays("LS", ("DATA",), "EVEN", rise=(33, 50), fall=(29, 45)),
    *delays("LS", ("DATA",), "ODD", rise=(23, 35), fall=(31, 50)),
    *delays("HC", ("DATA",), "EVEN", both=(None, 40)),
    *delays("HC", ("DATA",), "ODD", both=(None, 40)),
    *delays("HCT", ("DATA",), "EVEN", both=(None, 45)),
    *delays("HCT", ("DATA",), "ODD", both=(None, 45)),
    stated("HC", "power capacitance", typical=58, unit="pF", conditions="package", source=_PUBLISHED),
)

entry = Entry(
    number="280",
    title="nine-bit parity generator and checker",
    kind="arithmetic",
    families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("DATA", tuple("ABCDEFGHI")),),
    behaviour=Behaviour(drives=(Drive("EVEN", ~odd), Drive("ODD", odd))),
    figures=figures,
)
