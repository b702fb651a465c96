"""Decade counter with ten decoded outputs.

What it does
    A ring of five flip-flops, each of its ten states on an output of its own: Q0 after a reset, then Q1, Q2 ... It
    steps at the rising edge of CP0 while /CP1 is low, or at the falling edge of /CP1 while CP0 is high. MR high resets
    at once. CO is high for counts 0 to 4: a square wave of a tenth.

Pins
    4017: Q5 1, Q1 2, Q0 3, Q2 4, Q6 5, Q7 6, Q3 7, GND 8, Q8 9, Q4 10, Q9 11, CO 12 (/Q5-9 on some sheets), /CP1 13,
    CP0 14, MR 15, VCC 16. The vector Q is Q0 to Q9.

Function table
    ==  ====  ====  ==================
    MR  CP0   /CP1  step
    ==  ====  ====  ==================
    H   x     x     to 0
    L   rise  L     to the next
    L   H     fall  to the next
    L   L     x     held
    L   x     H     held
    L   fall  x     held
    L   x     rise  held
    ==  ====  ====  ==================

Timing
    Outputs from CP0 and /CP1; decoded without glitches between neighbours.

Mistakes people make
    Leaving the inhibit /CP1 open. Taking the tenth output for a divided clock: CO has the even wave.

Sources
    Function, typical delays, and the return from any state within 11 clocks: Philips 74HC/HCT4017 December 1990 p.2;
    function table and pins: Hitachi HD74HC4017. Other figures from memory; so is the gate that brings the ring back
    from states outside of the ten (third stage takes Q2 and (Q1 or Q3)): CD4017B logic diagram.
"""

from latchwork.chips.figures import delays, remembered_clock, remembered_pulses
from latchwork.chips.pins import dip, numbered
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("Q5:o Q1:o Q0:o Q2:o Q6:o Q7:o Q3:o GND Q8:o Q4:o Q9:o CO:o /CP1:i CP0:i MR:i VCC")

ring = variable("ring", 5)
following = concat(~ring[4], ring[0], ring[1] & (ring[0] | ring[2]), ring[2], ring[3])
rising = [~ring[0] & ~ring[4], *(ring[place] & ~ring[place + 1] for place in range(4))]
falling = [ring[0] & ring[4], *(~ring[place] & ring[place + 1] for place in range(4))]

behaviour = Behaviour(
    registers=(
        Register(
            "ring",
            5,
            (Update(variable("CP0") & ~variable("CP1_n"), following),),
            (Level(variable("MR"), constant(0, 5)),),
        ),
    ),
    drives=(Drive("Q", concat(*rising, *falling)), Drive("CO", ~ring[4])),
)

PHILIPS = "Philips 74HC/HCT4017 December 1990 p.2"

figures = (
    *(
        row
        for family in ("HC", "HCT")
        for end in ("Q", "CO")
        for row in delays(family, ("CP0", "CP1_n", "MR"), end, both=(None, 46))
    ),
    *delays("HC", ("CP0", "CP1_n"), "Q", both=(20, None), source=PHILIPS, conditions="5 V, 25 degC, 15 pF"),
    *delays("HCT", ("CP0", "CP1_n"), "Q", both=(21, None), source=PHILIPS, conditions="5 V, 25 degC, 15 pF"),
    *remembered_pulses("HC", CP0=16, CP1_n=16, MR=16),
    remembered_clock("HC", "CP0", 30),
)

entry = Entry(
    number="4017",
    title="decade counter with ten decoded outputs",
    kind="counter",
    families=("HC", "HCT"),
    pins=pins,
    vectors=(("Q", numbered("Q", 10, first=0)),),
    behaviour=behaviour,
    figures=figures,
)
