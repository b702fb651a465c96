"""Shift register for both directions with parallel load and clear, four bits (194) or eight (198).

What it does
    At the rising edge of CLK: S1, S0 low holds; S0 alone shifts from QA towards the last stage and takes SRSER into
    QA; S1 alone shifts the other way and takes SLSER into the last stage; both load the parallel inputs. /CLR low
    clears at once.

Pins
    194: /CLR 1, SRSER 2, A to D 3 to 6, SLSER 7, GND 8, S0 9, S1 10, CLK 11, QD to QA 12 to 15, VCC 16. 198, 24 pins
    in a wide package: S0 1, SRSER 2, A 3, QA 4, B 5, QB 6, C 7, QC 8, D 9, QD 10, CLK 11, GND 12, /CLR 13, QE 14, E
    15, QF 16, F 17, QG 18, G 19, QH 20, H 21, SLSER 22, S1 23, VCC 24.
    The vector P is A, B, ... and Q is QA, QB, ..., A in the lowest bit; S is S0, S1.

Function table
    ====  ==  ==  ====  ===============================
    /CLR  S1  S0  CLK   held
    ====  ==  ==  ====  ===============================
    L     x   x   x     all L
    H     L   L   x     held
    H     L   H   rise  shifted up, SRSER into QA
    H     H   L   rise  shifted down, SLSER into the last
    H     H   H   rise  P
    ====  ==  ==  ====  ===============================

Timing
    S0 and S1 need a longer setup than the data.

Mistakes people make
    In standard TTL moving S0 or S1 while CLK is low: the mode gates the clock inside, and that counts as an edge;
    move them while CLK is high. Naming directions by the drawing: "right" is from QA to QD.

Sources
    Function, pins and figures from memory of makers' data sheets (SN74194, SN74LS194A, SN74198).
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip
from latchwork.logic import Expression, case, concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("""
    /CLR:i SR_SER=SRSER:i A:i B:i C:i D:i SL_SER=SLSER:i GND
    S0:i S1:i CLK:i QD:o QC:o QB:o QA:o VCC
""")
wide_pins = dip("""
    S0:i SR_SER=SRSER:i A:i QA:o B:i QB:o C:i QC:o D:i QD:o CLK:i GND
    /CLR:i QE:o E:i QF:o F:i QG:o G:i QH:o H:i SL_SER=SLSER:i S1:i VCC
""")


def next_word(held: Expression, loaded: Expression) -> Expression:
    """What the modes 0 to 3 on S make of the held word."""
    last = held.width
    up, down = concat(variable("SRSER"), held[0 : last - 1]), concat(held[1:last], variable("SLSER"))
    return case(variable("S", 2), {1: up, 2: down, 3: loaded}, held)


def shifter(width: int) -> Behaviour:
    held = variable("held", width)
    update = Update(variable("CLK"), next_word(held, variable("P", width)))
    clear = Level(~variable("CLR_n"), constant(0, width))
    return Behaviour(registers=(Register("held", width, (update,), (clear,)),), drives=(Drive("Q", held),))


def vectors(letters: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return ("P", tuple(letters)), ("Q", tuple(f"Q{letter}" for letter in letters)), ("S", ("S0", "S1"))


figures = (
    *delays("", ("CLK",), "Q", rise=(14, 22), fall=(17, 26)),
    *delays("", ("CLR_n",), "Q", fall=(19, 30)),
    *delays("LS", ("CLK",), "Q", rise=(14, 22), fall=(17, 26)),
    *delays("LS", ("CLR_n",), "Q", fall=(19, 30)),
    *remembered_times("LS", "setup", "CLK", S=30, P=20, SRSER=20, SLSER=20),
    *remembered_times("LS", "hold", "CLK", S=0, P=0, SRSER=0, SLSER=0),
    *remembered_times("LS", "recovery", "CLK", CLR_n=25),
    *remembered_pulses("LS", CLK=20, CLR_n=20),
    remembered_clock("LS", "CLK", 25),
    *delays("S", ("CLK",), "Q", rise=(8, 12), fall=(11, 16.5)),
    *delays("S", ("CLR_n",), "Q", fall=(12.5, 18.5)),
    *delays("HC", ("CLK",), "Q", both=(None, 35)),
    *delays("HC", ("CLR_n",), "Q", fall=(None, 28)),
    *remembered_times("HC", "setup", "CLK", S=16, P=14, SRSER=14, SLSER=14),
    *delays("HCT", ("CLK",), "Q", both=(None, 37)),
    *delays("HCT", ("CLR_n",), "Q", fall=(None, 40)),
)

wide_figures = (
    *delays("", ("CLK",), "Q", rise=(17, 26), fall=(20, 30)),
    *delays("", ("CLR_n",), "Q", fall=(23, 35)),
    *remembered_times("", "setup", "CLK", S=30, P=20, SRSER=20, SLSER=20),
    *remembered_times("", "hold", "CLK", S=0, P=0, SRSER=0, SLSER=0),
    *remembered_pulses("", CLK=20, CLR_n=20),
    remembered_clock("", "CLK", 25),
)

four = Entry(
    number="194",
    title="four-bit shift register for both directions",
    kind="shift register",
    families=("", "LS", "S", "F", "HC", "HCT"),
    pins=pins,
    vectors=vectors("ABCD"),
    behaviour=shifter(4),
    figures=figures,
)

entries = (
    four,
    four.renamed(
        "74198",  # standard TTL only, hence its whole name
        title="eight-bit shift register for both directions",
        families=("",),
        pins=wide_pins,
        vectors=vectors("ABCDEFGH"),
        behaviour=shifter(8),
        figures=wide_figures,
        width_mil=600,
    ),
)
