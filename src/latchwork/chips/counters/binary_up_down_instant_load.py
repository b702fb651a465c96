"""Four-bit binary up and down counter with one clock and asynchronous load.

What it does
    Counts at the rising edge of CLK while /CTEN is low: up while D/U is low, down while it is high. /LOAD low takes
    A to D at once, whatever the clock does. There is no clear.

Pins
    191: B 1, QB 2, QA 3, /CTEN 4, D/U 5, QC 6, QD 7, GND 8, D 9, C 10, /LOAD 11, MAX/MIN 12, /RCO 13, CLK 14, A 15,
    VCC 16. Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first. D/U (a barred U) is named DU here, MAX/MIN
    is named MAXMIN.

Function table
    =====  =====  ==  ====  ===========
    /LOAD  /CTEN  DU  CLK   Q
    =====  =====  ==  ====  ===========
    L      x      x   x     P
    H      L      L   rise  Q plus 1
    H      L      H   rise  Q minus 1
    H      H      x   rise  held
    =====  =====  ==  ====  ===========
    MAX/MIN is high while Q is 15 (DU low) or 0 (DU high). /RCO is low while MAX/MIN is high and /CTEN and CLK are
    low: a ripple clock whose rising edge comes with that of CLK.

Timing
    Stages may be chained /RCO to CLK (ripple clock) or /RCO to /CTEN with CLK in common.

Mistakes people make
    Taking the 169, whose U/D has the other sense and whose load waits for the clock. Moving /CTEN or D/U while CLK is
    low: the bench then may see a pulse on the inner clock, which is not modelled.

Sources
    SN74LS191 data sheet SDLS072: function, pins and figures from memory. Function table from memory, checked against
    an integer model.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered
from latchwork.chips.pins import dip
from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("""
    B:i QB:o QA:o /CTEN:i D//U=DU:i QC:o QD:o GND
    D:i C:i /LOAD:i MAX/MIN=MAXMIN:o /RCO:o CLK:i A:i VCC
""")

clock, load, down, hold = variable("CLK"), variable("LOAD_n"), variable("DU"), variable("CTEN_n")
data, count = variable("P", 4), variable("count", 4)

counted = mux(down, count - 1, count + 1)
at_end = mux(down, count.equals(0), count.equals(15))

behaviour = Behaviour(
    registers=(Register("count", 4, (Update(clock, mux(hold, count, counted)),), (Level(~load, data),)),),
    drives=(Drive("Q", count), Drive("MAXMIN", at_end), Drive("RCO_n", ~(at_end & ~hold & ~clock))),
)

figures = (
    remembered("LS", "delay", "CLK", "Q", edge="rise", maximum=24, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "Q", edge="fall", maximum=36, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "LOAD_n", "Q", edge="rise", maximum=33, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "LOAD_n", "Q", edge="fall", maximum=50, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "P", "Q", edge="rise", maximum=32, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "P", "Q", edge="fall", maximum=40, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "RCO_n", edge="rise", maximum=20, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "RCO_n", edge="fall", maximum=24, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "MAXMIN", edge="rise", maximum=42, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "MAXMIN", edge="fall", maximum=52, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "DU", "RCO_n", maximum=45, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "DU", "MAXMIN", maximum=33, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CTEN_n", "RCO_n", maximum=33, conditions=MEMORY_CONDITIONS),
    remembered("LS", "setup", "P", "LOAD_n", edge="rise", minimum=20),
    remembered("LS", "setup", "CTEN_n", "CLK", minimum=40),
    remembered("LS", "hold", "P", "LOAD_n", edge="rise", minimum=5),
    remembered("LS", "pulse width", "CLK", minimum=25),
    remembered("LS", "pulse width", "LOAD_n", minimum=35),
    remembered("LS", "maximum clock", minimum=20, unit="MHz"),
    remembered("HC", "delay", "CLK", "Q", maximum=44, conditions=MEMORY_CONDITIONS),
    remembered("HC", "delay", "CLK", "MAXMIN", maximum=51, conditions=MEMORY_CONDITIONS),
    remembered("HC", "delay", "CLK", "RCO_n", maximum=30, conditions=MEMORY_CONDITIONS),
)

entry = Entry(
    number="191",
    title="four-bit binary up and down counter, asynchronous load",
    kind="counter",
    families=("", "LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
