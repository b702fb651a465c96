"""Eight-bit comparator for equality.

What it does
    The output goes low while /G is low and P equals Q in all eight bits.

Pins
    688: /G 1, P0 2, Q0 3, P1 4, Q1 5, P2 6, Q2 7, P3 8, Q3 9, GND 10, P4 11, Q4 12, P5 13, Q5 14, P6 15, Q6 16, P7 17,
    Q7 18, /P=Q 19, VCC 20. Vectors: P and Q, lowest bit first. /P=Q is named PQ_n.

Function table
    ==  ======  ====
    /G  data    /P=Q
    ==  ======  ====
    H   x       H
    L   P = Q   L
    L   P ≠ Q   H
    ==  ======  ====

Timing
    One delay from the data, a shorter one from /G.

Mistakes people make
    Expecting greater and less: the 682 has greater. Using the glitches while an address moves as a strobe.

Sources
    SN74LS688 data sheet SDLS008: function, pins and figures from memory. The function table from memory, checked
    against an integer model.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("""
    /G:i P0:i Q0:i P1:i Q1:i P2:i Q2:i P3:i Q3:i GND
    P4:i Q4:i P5:i Q5:i P6:i Q6:i P7:i Q7:i /P=Q=PQ_n:o VCC
""")

equal = variable("P", 8).equals(variable("Q", 8))

behaviour = Behaviour(drives=(Drive("PQ_n", ~(equal & ~variable("G_n"))),))

figures = (
    *(remembered("LS", "delay", start, "PQ_n", edge="rise", maximum=18) for start in ("P", "Q", "G_n")),
    *(remembered("LS", "delay", start, "PQ_n", edge="fall", maximum=23) for start in ("P", "Q")),
    remembered("LS", "delay", "G_n", "PQ_n", edge="fall", maximum=20),
    *(remembered("HCT", "delay", start, "PQ_n", maximum=34, conditions=MEMORY_CONDITIONS) for start in ("P", "Q")),
    remembered("HCT", "delay", "G_n", "PQ_n", maximum=24, conditions=MEMORY_CONDITIONS),
)

entry = Entry(
    number="688",
    title="eight-bit equality comparator",
    kind="arithmetic",
    families=("LS", "ALS", "HC", "HCT"),
    pins=pins,
    vectors=(("P", numbered("P", 8, first=0)), ("Q", numbered("Q", 8, first=0))),
    behaviour=behaviour,
    figures=figures,
)
