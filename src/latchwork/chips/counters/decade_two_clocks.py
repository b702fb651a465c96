"""Decade counter with one clock for up, one for down, asynchronous load and clear.

What it does
    Counts up at the rising edge of UP while DOWN is high (9 to 0), down at the rising edge of DOWN while UP is high
    (0 to 9). /LOAD low takes A to D at once; CLR high clears at once and goes before load.

Pins
    192: those of the 193. B 1, QB 2, QA 3, DOWN 4, UP 5, QC 6, QD 7, GND 8, D 9, C 10, /LOAD 11, /CO 12, /BO 13,
    CLR 14, A 15, VCC 16. Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first.

Function table
    ===  =====  ====  ====  =======================
    CLR  /LOAD  UP    DOWN  Q
    ===  =====  ====  ====  =======================
    H    x      x     x     0
    L    L      x     x     P
    L    H      rise  H     Q plus 1, 0 after 9
    L    H      H     rise  Q minus 1, 9 after 0
    L    H      rise  L     held
    L    H      L     rise  held
    ===  =====  ====  ====  =======================
    /CO is low while Q is 9 and UP is low; /BO is low while Q is 0 and DOWN is low.

Timing
    As the 193.

Mistakes people make
    Leaving the idle clock low: the counter then stands still. Leaving CLR open on TTL: it reads high and clears.

Sources
    SN74LS192 data sheet SDLS074: function, pins and figures from memory. What a clock edge does while the other clock
    is low is left open by the sheet; held is our choice.
"""

from collections.abc import Iterable
from dataclasses import replace

from latchwork.chips.counters.binary_two_clocks import SHEET, figures, pins
from latchwork.chips.counters.decade import ten_down, ten_up
from latchwork.chips.figures import MAKERS
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Confidence, Drive, Entry, Figure, Level, Register, Update

up, down, load, clear = variable("UP"), variable("DOWN"), variable("LOAD_n"), variable("CLR")
data, count = variable("P", 4), variable("count", 4)

behaviour = Behaviour(
    registers=(
        Register(
            "count",
            4,
            (Update(up, mux(down, ten_up(count), count)), Update(down, mux(up, ten_down(count), count))),
            (Level(clear, constant(0, 4)), Level(~load, data)),
        ),
    ),
    drives=(
        Drive("Q", count),
        Drive("CO_n", ~(count.equals(9) & ~up)),
        Drive("BO_n", ~(count.equals(0) & ~down)),
    ),
)


def as_remembered(rows: Iterable[Figure]) -> tuple[Figure, ...]:
    """What was read for the 193 alone is from memory for the 192; of the two hold times the remembered one stands."""
    return tuple(
        replace(row, source=MAKERS, confidence=Confidence.MEMORY) if row.source == SHEET else row
        for row in rows
        if row.family in {"LS", "HC"} and not (row.source == SHEET and row.quantity == "hold")
    )


entry = Entry(
    number="192",
    title="decade counter with two clocks",
    kind="counter",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=as_remembered(figures),
)
