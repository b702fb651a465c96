"""Eight-input selector with both senses of its output.

What it does
    Y shows the input whose number stands on C, B, A; W its inverse. While /G is high Y is low and W high.

Pins
    151: D3 to D0 1 to 4, Y 5, W 6, /G 7, GND 8, C 9, B 10, A 11, D7 to D4 12 to 15, VCC 16.
    Vectors: D is D0 .. D7; S is A, B, C, lowest first.

Function table
    ==  =======  ========
    /G  Y        W
    ==  =======  ========
    H   L        H
    L   D[S]     not D[S]
    ==  =======  ========

Timing
    The inverse W is the faster output: Y is made from it.

Mistakes people make
    Taking W for a second output that is free of the strobe: it goes high with /G.

Sources
    LS figures: Motorola FAST AND LS TTL DATA, SN54/74LS151. Function, pins and other figures from memory. The function
    table from memory, checked against an integer model.
"""

from latchwork.chips.figures import LIGHT, MEMORY_CONDITIONS, Pair, delays, remembered, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import case, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure

pins = dip("D3:i D2:i D1:i D0:i Y:o W:o /G:i GND C:i B:i A:i D7:i D6:i D5:i D4:i VCC")

data = variable("D", 8)
chosen = case(variable("S", 3), {number: data[number] for number in range(7)}, data[7])
shown = chosen & ~variable("G_n")

behaviour = Behaviour(drives=(Drive("Y", shown), Drive("W", ~shown)))

MOTOROLA = "Motorola FAST AND LS TTL DATA, SN54/74LS151"


def ls(start: str, end: str, rise: Pair, fall: Pair) -> tuple[Figure, ...]:
    return delays("LS", (start,), end, rise=rise, fall=fall, source=MOTOROLA, conditions=LIGHT)


figures = (
    *ls("S", "Y", rise=(27, 43), fall=(18, 30)),
    *ls("S", "W", rise=(14, 23), fall=(20, 32)),
    *ls("D", "Y", rise=(20, 32), fall=(16, 26)),
    *ls("D", "W", rise=(13, 21), fall=(12, 20)),
    *ls("G_n", "Y", rise=(26, 42), fall=(20, 32)),
    *ls("G_n", "W", rise=(15, 24), fall=(18, 30)),
    stated("LS", "supply current", maximum=10, unit="mA", source=MOTOROLA),
    remembered("HCT", "delay", "S", "Y", maximum=41, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "D", "Y", maximum=38, conditions=MEMORY_CONDITIONS),
)

entry = Entry(
    number="151",
    title="eight-input selector",
    kind="selector",
    families=("", "LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("D", numbered("D", 8, first=0)), ("S", ("A", "B", "C"))),
    behaviour=behaviour,
    figures=figures,
)
