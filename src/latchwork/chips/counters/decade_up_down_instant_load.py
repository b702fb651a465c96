"""Decade up and down counter with one clock and asynchronous load.

What it does
    Counts at the rising edge of CLK while /CTEN is low: up while D/U is low (9 to 0), down while it is high (0 to 9).
    /LOAD low takes A to D at once, whatever the clock does.

Pins
    190: those of the 191. B 1, QB 2, QA 3, /CTEN 4, D/U 5, QC 6, QD 7, GND 8, D 9, C 10, /LOAD 11, MAX/MIN 12, /RCO 13,
    CLK 14, A 15, VCC 16. Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first.

Function table
    =====  =====  ==  ====  =======================
    /LOAD  /CTEN  DU  CLK   Q
    =====  =====  ==  ====  =======================
    L      x      x   x     P
    H      L      L   rise  Q plus 1, 0 after 9
    H      L      H   rise  Q minus 1, 9 after 0
    H      H      x   x     held
    =====  =====  ==  ====  =======================
    MAX/MIN is high while Q is 9 (up) or 0 (down). /RCO is low while MAX/MIN is high and /CTEN and CLK are low.

Timing
    As the 191.

Mistakes people make
    D/U or /CTEN that change while CLK is low. Loading a digit above nine. Expecting a clear.

Sources
    SN74LS190 data sheet SDLS072: function, pins and figures from memory.
"""

from latchwork.chips.counters.binary_up_down_instant_load import figures, pins
from latchwork.chips.counters.decade import ten_down, ten_up
from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

clock, load, down, hold = variable("CLK"), variable("LOAD_n"), variable("DU"), variable("CTEN_n")
data, count = variable("P", 4), variable("count", 4)

counted = mux(down, ten_down(count), ten_up(count))
at_end = mux(down, count.equals(0), count.equals(9))

behaviour = Behaviour(
    registers=(Register("count", 4, (Update(clock, mux(hold, count, counted)),), (Level(~load, data),)),),
    drives=(Drive("Q", count), Drive("MAXMIN", at_end), Drive("RCO_n", ~(at_end & ~hold & ~clock))),
)

entry = Entry(
    number="190",
    title="decade up and down counter, asynchronous load",
    kind="counter",
    families=("", "LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
