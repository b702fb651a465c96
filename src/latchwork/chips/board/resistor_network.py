"""Resistors in one case: eight to a common pin, or eight apart.

What it does
    Each hands a strong level of one end on to the other as a weak one. With the common pin on a rail the network pulls
    eight nets. The chip's parameter ``ohms`` is the value of each.

Pins
    resistor network: COM 1 (marked by a dot), R1 to R8 2 to 9, in one row: no dual in-line package. resistor pack: A1
    to A8 1 to 8, B8 to B1 9 to 16; each B opposite to its A, rows 300 mil apart. Vectors R; A and B.

Function table
    =========  =================
    one end    other end
    =========  =================
    strong 0   weak 0
    strong 1   weak 1
    weak       nothing handed on
    =========  =================

Timing
    None here; with the capacitance of a net it makes edges slow.

Mistakes people make
    Turning the network round: the common pin then sits on a signal, and all others pull it and each other.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip, numbered
from latchwork.parts import Behaviour, Entry, Tie, TieKind

NUMBERS = range(1, 9)

common = Entry(
    number="resistor network",
    title="eight resistors to a common pin",
    kind="resistor",
    families=("",),
    pins=dip(" ".join(["COM:p", *(f"R{number}:p" for number in NUMBERS)])),
    vectors=(("R", numbered("R", 8)),),
    behaviour=Behaviour(ties=tuple(Tie(f"r{number}", f"R{number}", "COM", TieKind.RESISTOR) for number in NUMBERS)),
    width_mil=0,
)
entries = (
    common,
    common.renamed(
        "resistor pack",
        title="eight resistors apart",
        pins=dip(
            " ".join([*(f"A{number}:p" for number in NUMBERS), *(f"B{number}:p" for number in reversed(NUMBERS))])
        ),
        vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
        behaviour=Behaviour(
            ties=tuple(Tie(f"r{number}", f"A{number}", f"B{number}", TieKind.RESISTOR) for number in NUMBERS)
        ),
        width_mil=300,
    ),
)
