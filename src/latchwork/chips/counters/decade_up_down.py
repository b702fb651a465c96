"""Decade up and down counter, all synchronous.

What it does
    Counts at the rising edge of CLK while /ENP and /ENT are low: up while U/D is high (9 to 0), down while it is low
    (0 to 9). /LOAD low takes A to D instead. There is no clear.

Pins
    168: those of the 169. U/D 1, CLK 2, A to D 3 to 6, /ENP 7, GND 8, /LOAD 9, /ENT 10, QD to QA 11 to 14, /RCO 15,
    VCC 16. Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first. U/D (U and a barred D) is named UD here.

Function table
    =====  ====  ====  ==  ====  =======================
    /LOAD  /ENP  /ENT  UD  CLK   Q
    =====  ====  ====  ==  ====  =======================
    L      x     x     x   rise  P
    H      L     L     H   rise  Q plus 1, 0 after 9
    H      L     L     L   rise  Q minus 1, 9 after 0
    H      H     x     x   rise  held
    H      x     H     x   rise  held
    =====  ====  ====  ==  ====  =======================
    /RCO is low while /ENT is low and Q is 9 (UD high) or 0 (UD low).

Timing
    /RCO follows U/D and /ENT without a clock; in a cascade /RCO goes to /ENT of the next.

Mistakes people make
    Loading a digit above nine. Expecting the enables of a 160: here they are active low.

Sources
    SN74LS168B data sheet SDLS134: function, pins and figures from memory.
"""

from latchwork.chips.counters.binary_up_down import pins
from latchwork.chips.counters.decade import ten_down, ten_up
from latchwork.chips.figures import delays, remembered_clock, remembered_pulses, remembered_times, stated
from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Register, Update

load, up = variable("LOAD_n"), variable("UD")
advance, chain = variable("ENP_n"), variable("ENT_n")
data, count = variable("P", 4), variable("count", 4)

counted = mux(up, ten_up(count), ten_down(count))
following = mux(load, mux(advance | chain, count, counted), data)
at_end = mux(up, count.equals(9), count.equals(0))

behaviour = Behaviour(
    registers=(Register("count", 4, (Update(variable("CLK"), following),)),),
    drives=(Drive("Q", count), Drive("RCO_n", ~(at_end & ~chain))),
)

figures = (
    *delays("LS", ("CLK",), "Q", both=(None, 23)),
    *delays("LS", ("CLK",), "RCO_n", both=(None, 35)),
    *delays("LS", ("ENT_n",), "RCO_n", both=(None, 14)),
    *delays("LS", ("UD",), "RCO_n", rise=(None, 25), fall=(None, 29)),
    *remembered_times("LS", "setup", "CLK", P=20, ENP_n=20, ENT_n=20, LOAD_n=25, UD=30),
    *remembered_times("LS", "hold", "CLK", P=0, ENP_n=0, ENT_n=0, LOAD_n=0, UD=0),
    *remembered_pulses("LS", CLK=25),
    remembered_clock("LS", "CLK", 25),
    stated("LS", "supply current", maximum=34, unit="mA", source="Motorola FAST AND LS TTL DATA p.5-180"),
)

entry = Entry(
    number="168",
    title="decade up and down counter",
    kind="counter",
    families=("LS", "ALS", "S", "F"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
