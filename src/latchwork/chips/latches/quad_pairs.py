"""Four transparent latches in two pairs, with both outputs of each.

What it does
    While the enable of its pair is high each Q follows its D; when the enable goes low it keeps the last value.

Pins
    /1Q 1, 1D 2, 2D 3, 3C,4C 4 (here C34), VCC 5, 3D 6, 4D 7, /4Q 8, 4Q 9, 3Q 10, /3Q 11, GND 12, 1C,2C 13 (here
    C12), /2Q 14, 2Q 15, 1Q 16.

Function table
    =  =  ====  =====
    D  C  Q     /Q
    =  =  ====  =====
    L  H  L     H
    H  H  H     L
    x  L  held  held
    =  =  ====  =====

Timing
    Delays from D and from the enable; D must be stable around the falling edge of the enable.

Mistakes people make
    Supply pins in the corners: they are 5 and 12. Putting latches into a loop, which runs round while C is high.

Sources
    Function, pins and figures from memory of makers' data sheets (SN7475, SN74LS75; 74HC/HCT75).
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip, numbered
from latchwork.logic import concat, variable
from latchwork.parts import Behaviour, Drive, Entry, Latch

pins = dip("""
    /1Q:o 1D:i 2D:i 3C,4C=C34:i VCC 3D:i 4D:i /4Q:o
    4Q:o 3Q:o /3Q:o GND 1C,2C=C12:i /2Q:o 2Q:o 1Q:o
""")

PAIRS = ((1, 2), (3, 4))


def pair(first: int, second: int) -> Latch:
    data = concat(variable(f"D{first}"), variable(f"D{second}"))
    return Latch(f"held{first}{second}", 2, variable(f"C{first}{second}"), data)


held = concat(*(variable(f"held{first}{second}", 2) for first, second in PAIRS))

behaviour = Behaviour(
    latches=tuple(pair(*numbers) for numbers in PAIRS),
    drives=(Drive("Q", held), Drive("Q_n", ~held)),
)

ENABLES = ("C12", "C34")

figures = (
    *delays("", ("D",), "Q", rise=(16, 30), fall=(14, 25)),
    *delays("", ("D",), "Q_n", rise=(24, 40), fall=(7, 15)),
    *delays("", ENABLES, "Q", rise=(16, 30), fall=(7, 15)),
    *delays("", ENABLES, "Q_n", rise=(16, 30), fall=(7, 15)),
    *delays("LS", ("D",), "Q", rise=(15, 27), fall=(9, 17)),
    *delays("LS", ("D",), "Q_n", rise=(12, 20), fall=(7, 15)),
    *delays("LS", ENABLES, "Q", rise=(15, 27), fall=(14, 25)),
    *delays("LS", ENABLES, "Q_n", rise=(16, 30), fall=(7, 15)),
    *(row for end in ENABLES for row in remembered_times("LS", "setup", end, D=20)),
    *(row for end in ENABLES for row in remembered_times("LS", "hold", end, D=5)),
    *remembered_pulses("LS", C12=20, C34=20),
    *delays("HC", ("D", *ENABLES), "Q", both=(None, 26)),
    *delays("HC", ("D", *ENABLES), "Q_n", both=(None, 28)),
)

entry = Entry(
    number="75",
    title="four transparent latches in two pairs",
    kind="latch",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=(("D", numbered("D", 4)), ("Q", numbered("Q", 4)), ("Q_n", numbered("Q", 4, end="_n"))),
    behaviour=behaviour,
    figures=figures,
)
