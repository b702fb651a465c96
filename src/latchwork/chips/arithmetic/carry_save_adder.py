"""Two one-bit full adders that keep their carries.

What it does
    Each adds three bits: S is their sum, the carry stands on a pin of its own, not inverted.

Pins
    183: 1A 1, NC 2, 1B 3, 1Cn 4, 1Cn+1 5, 1S 6, GND 7, 2S 8, NC 9, 2Cn+1 10, 2Cn 11, 2B 12, 2A 13, VCC 14. Carries are
    named Cn1, Cn2 (in) and C1, C2 (out) here; sheets write the sum as a sigma.

Function table
    A + B + Cn = S + 2 C

Timing
    One delay from any input to either output.

Mistakes people make
    Chaining many of them where a carry look-ahead adder belongs: they are meant for adding many numbers at once.

Sources
    SN74LS183 data sheet SDLS127: function, pins and figures from memory.
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip
from latchwork.logic import parity, variable
from latchwork.logic.expression import concat
from latchwork.parts import Behaviour, Drive, Entry, Unit

pins = dip("1A:i NC=NC2:n 1B:i 1Cn:i 1Cn+1=C1:o 1S:o GND 2S:o NC=NC9:n 2Cn+1=C2:o 2Cn:i 2B:i 2A:i VCC")

NUMBERS = (1, 2)


def adder(number: int) -> tuple[Drive, Drive]:
    a, b, carry = variable(f"A{number}"), variable(f"B{number}"), variable(f"Cn{number}")
    return Drive(f"S{number}", parity(concat(a, b, carry))), Drive(f"C{number}", (a & b) | (a & carry) | (b & carry))


figures = tuple(
    row
    for number in NUMBERS
    for end in ("S", "C")
    for row in delays("LS", tuple(f"{name}{number}" for name in ("A", "B", "Cn")), f"{end}{number}", both=(15, 33))
)

entry = Entry(
    number="183",
    title="dual carry-save full adder",
    kind="arithmetic",
    families=("LS",),
    pins=pins,
    behaviour=Behaviour(drives=tuple(drive for number in NUMBERS for drive in adder(number))),
    units=tuple(
        Unit(str(number), tuple((name, f"{name}{number}") for name in ("A", "B", "Cn", "S", "C"))) for number in NUMBERS
    ),
    figures=figures,
)
