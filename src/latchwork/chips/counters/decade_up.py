"""Decade up counters with synchronous load: cleared at once (160) or at the clock (162).

What it does
    Counts up at the rising edge of CLK, 9 to 0, while ENP and ENT are high. /LOAD low takes A to D instead. /CLR low
    clears: the 160 at once, whatever the clock does; the 162 at the next rising edge, before load and count.

Pins
    160, 162: those of the 161. /CLR 1, CLK 2, A to D 3 to 6, ENP 7, GND 8, /LOAD 9, ENT 10, QD to QA 11 to 14, RCO 15,
    VCC 16. Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first.

Function table
    ====  =====  ===  ===  ====  ======================
    /CLR  /LOAD  ENP  ENT  CLK   Q
    ====  =====  ===  ===  ====  ======================
    L     x      x    x    x     0 (160)
    L     x      x    x    rise  0 (162)
    H     L      x    x    rise  P
    H     H      H    H    rise  Q plus 1, 0 after 9
    H     H      L    x    rise  held
    H     H      x    L    rise  held
    ====  =====  ===  ===  ====  ======================
    RCO is high while Q is 9 and ENT is high. From 10 to 15 the count returns in at most two clocks.

Timing
    As the 161: a cascade runs RCO to ENT.

Mistakes people make
    Loading a digit above nine. Taking one for the 161, which has the same pins and counts to 15. The 74160 and 74162
    of standard TTL want their enables still while CLK is low and are left out here.

Sources
    SN74LS160A data sheet SDLS060, Motorola MC74F160A (carry): function, pins and figures from memory; they are one
    family of parts with the 161 and 163.
"""

from latchwork.chips.counters.binary_up import pins
from latchwork.chips.counters.decade import ten_up
from latchwork.chips.figures import delays, remembered_clock, remembered_pulses, remembered_times
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Level, Register, Update

clock, clear, load = variable("CLK"), variable("CLR_n"), variable("LOAD_n")
advance, chain = variable("ENP"), variable("ENT")
data, count = variable("P", 4), variable("count", 4)

following = mux(load, mux(advance & chain, ten_up(count), count), data)
drives = (Drive("Q", count), Drive("RCO", count.equals(9) & chain))
cleared_at_once = Behaviour(
    drives, registers=(Register("count", 4, (Update(clock, following),), (Level(~clear, constant(0, 4)),)),)
)
cleared_at_clock = Behaviour(
    drives, registers=(Register("count", 4, (Update(clock, mux(clear, following, constant(0, 4))),)),)
)

common: tuple[Figure, ...] = (
    *delays("LS", ("CLK",), "RCO", both=(20, 35)),
    *delays("LS", ("CLK",), "Q", rise=(13, 24), fall=(18, 27)),
    *delays("LS", ("ENT",), "RCO", both=(None, 14)),
    *remembered_times("LS", "setup", "CLK", P=20, LOAD_n=20, ENP=20, ENT=20),
    *remembered_times("LS", "hold", "CLK", P=0, LOAD_n=0, ENP=0, ENT=0),
    *remembered_pulses("LS", CLK=25),
    remembered_clock("LS", "CLK", 25),
    *delays("HC", ("CLK",), "Q", both=(22, 37)),
    *delays("HC", ("CLK",), "RCO", both=(25, 43)),
    *delays("HC", ("ENT",), "RCO", both=(17, 30)),
)

clearing_at_once = Entry(
    number="160",
    title="decade counter, asynchronous clear",
    kind="counter",
    families=("LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=cleared_at_once,
    figures=(*common, *delays("LS", ("CLR_n",), "Q", fall=(20, 28)), *remembered_pulses("LS", CLR_n=20)),
)
entries = (
    clearing_at_once,
    clearing_at_once.renamed(
        "162",
        title="decade counter, synchronous clear",
        behaviour=cleared_at_clock,
        figures=(*common, *remembered_times("LS", "setup", "CLK", CLR_n=20)),
    ),
)
