"""Eight-input selector with three-state outputs in both senses.

What it does
    Y shows the input whose number stands on C, B, A; W its inverse. While /G is high both drive nothing.

Pins
    As the 151: D3 to D0 1 to 4, Y 5, W 6, /G 7, GND 8, C 9, B 10, A 11, D7 to D4 12 to 15, VCC 16.
    Vectors: D is D0 .. D7; S is A, B, C, lowest first.

Function table
    ==  =======  ========
    /G  Y        W
    ==  =======  ========
    H   off      off
    L   D[S]     not D[S]
    ==  =======  ========

Timing
    The inverse W is the faster output in the bipolar families; enable and disable times from /G.

Mistakes people make
    Enabling two of them on one net for a moment while select lines of the enable decoder move.

Sources
    Function and HC figures: TI CD74HC251 SCHS169D. F delays to W: Motorola MC74F251 p.4-119. Pins as those of the
    151. Other figures from memory (SN74LS251).
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import numbered
from latchwork.chips.selectors.selector_8 import chosen, pins
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

shown = ~variable("G_n")

behaviour = Behaviour(
    drives=(
        Drive("Y", chosen, shown, OutputKind.THREE_STATE),
        Drive("W", ~chosen, shown, OutputKind.THREE_STATE),
    )
)

TEXAS, USUAL = "TI CD74HC251 SCHS169D", "4.5 V, 25 degC, 50 pF"
MOTOROLA, FAST = "Motorola MC74F251 p.4-119", "5 V, 25 degC, 50 pF"
BOTH = ("Y", "W")

figures = (
    *delays("LS", ("S",), "Y", rise=(29, 45), fall=(28, 45)),
    *delays("LS", ("S",), "W", rise=(20, 33), fall=(21, 33)),
    *delays("LS", ("D",), "Y", rise=(17, 28), fall=(18, 28)),
    *delays("LS", ("D",), "W", rise=(10, 15), fall=(9, 15)),
    *delays("LS", ("G_n",), "Y", rise=(30, 45), fall=(26, 40), quantity="enable"),
    *delays("LS", ("G_n",), "W", rise=(17, 27), fall=(24, 40), quantity="enable"),
    *delays("LS", ("G_n",), "Y", both=(30, 45), quantity="disable"),
    *delays("LS", ("G_n",), "W", both=(37, 55), quantity="disable"),
    *delays("F", ("D",), "W", rise=(3.0, 5.7), fall=(1.5, 4.0), source=MOTOROLA, conditions=FAST),
    *(row for end in BOTH for row in delays("HC", ("S",), end, both=(None, 49), source=TEXAS, conditions=USUAL)),
    *(row for end in BOTH for row in delays("HC", ("D",), end, both=(None, 35), source=TEXAS, conditions=USUAL)),
    *(
        row
        for quantity in ("enable", "disable")
        for end in BOTH
        for row in delays("HC", ("G_n",), end, both=(None, 28), quantity=quantity, source=TEXAS, conditions=USUAL)
    ),
)

entry = Entry(
    number="251",
    title="eight-input selector, three-state",
    kind="selector",
    families=("", "LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("D", numbered("D", 8, first=0)), ("S", ("A", "B", "C"))),
    behaviour=behaviour,
    figures=figures,
)
