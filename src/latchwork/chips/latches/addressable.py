"""Eight latches addressed one at a time, or a one-to-eight demultiplexer.

What it does
    While /G is low the latch whose number stands on S2, S1, S0 follows D; the others hold. While /CLR is low as well
    the others are cleared: the addressed output shows D, as in a decoder. /CLR low with /G high clears all.

Pins
    S0 1, S1 2, S2 3, Q0 to Q3 4 to 7, GND 8, Q4 to Q7 9 to 12, D 13, /G 14, /CLR 15, VCC 16.
    Vectors: S is S0 .. S2; Q is Q0 .. Q7.

Function table
    ====  ==  ================  ==========
    /CLR  /G  addressed output  the others
    ====  ==  ================  ==========
    H     L   D                 held
    H     H   held              held
    L     L   D                 L
    L     H   L                 L
    ====  ==  ================  ==========

Timing
    Delays from D, from the address, from /G and from /CLR.

Mistakes people make
    Moving the address while /G is low: every latch passed on the way takes D.

Sources
    Function and HC figures: TI CD74HC259 SCHS173D (addressable latch, memory, demultiplexer, reset). Pins and other
    figures from memory (SN74LS259B).
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Latch, Level

pins = dip("S0:i S1:i S2:i Q0:o Q1:o Q2:o Q3:o GND Q4:o Q5:o Q6:o Q7:o D:i /G:i /CLR:i VCC")


def latch(number: int) -> Latch:
    addressed = ~variable("G_n") & variable("S", 3).equals(number)
    cleared = Level(~variable("CLR_n") & ~addressed, constant(0))
    return Latch(f"held{number}", 1, addressed, variable("D"), (cleared,))


behaviour = Behaviour(
    latches=tuple(latch(number) for number in range(8)),
    drives=(Drive("Q", concat(*(variable(f"held{number}") for number in range(8)))),),
)

TEXAS = "TI CD74HC259 SCHS173D"

figures = (
    *delays("LS", ("D",), "Q", rise=(20, 32), fall=(13, 21)),
    *delays("LS", ("S",), "Q", rise=(24, 38), fall=(18, 29)),
    *delays("LS", ("G_n",), "Q", rise=(22, 35), fall=(15, 24)),
    *delays("LS", ("CLR_n",), "Q", fall=(17, 27)),
    *remembered_times("LS", "setup", "G_n", D=20, S=20),
    *remembered_times("LS", "hold", "G_n", D=5, S=20),
    *remembered_pulses("LS", G_n=17, CLR_n=10),
    *delays("HC", ("D",), "Q", both=(None, 37), source=TEXAS, conditions="4.5 V, 25 degC, 50 pF"),
    *delays("HC", ("D",), "Q", both=(15, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HC", ("G_n",), "Q", both=(None, 34), source=TEXAS, conditions="4.5 V, 25 degC, 50 pF"),
    *delays("HC", ("G_n",), "Q", both=(14, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HC", ("S",), "Q", both=(None, 37), source=TEXAS, conditions="4.5 V, 25 degC, 50 pF"),
    *delays("HC", ("S",), "Q", both=(15, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HC", ("CLR_n",), "Q", both=(None, 31), source=TEXAS, conditions="4.5 V, 25 degC, 50 pF"),
    *delays("HC", ("CLR_n",), "Q", both=(13, None), source=TEXAS, conditions="5 V, 25 degC, 15 pF"),
    stated("HC", "pulse width", "G_n", minimum=14, source=TEXAS, conditions="4.5 V, 25 degC"),
    stated("HC", "pulse width", "CLR_n", minimum=14, source=TEXAS, conditions="4.5 V, 25 degC"),
    *delays("HCT", ("D", "S", "G_n", "CLR_n"), "Q", both=(None, 41)),
)

entry = Entry(
    number="259",
    title="eight addressable latches",
    kind="latch",
    families=("", "LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("S", numbered("S", 3, first=0)), ("Q", numbered("Q", 8, first=0))),
    behaviour=behaviour,
    figures=figures,
)
