"""Four-bit binary up and down counter, the later twin of the 169.

What it does
    Counts at the rising edge of CLK while /ENP and /ENT are low: up while U/D is high, down while it is low. /LOAD low
    takes A to D instead. There is no clear. Function and pins are those of the 169.

Pins
    669: U/D 1, CLK 2, A to D 3 to 6, /ENP 7, GND 8, /LOAD 9, /ENT 10, QD to QA 11 to 14, /RCO 15, VCC 16. Vectors: P is
    A, B, C, D; Q is QA, QB, QC, QD, lowest first. U/D (U and a barred D) is named UD here.

Function table
    =====  ====  ====  ==  ====  ===========
    /LOAD  /ENP  /ENT  UD  CLK   Q
    =====  ====  ====  ==  ====  ===========
    L      x     x     x   rise  P
    H      L     L     H   rise  Q plus 1
    H      L     L     L   rise  Q minus 1
    H      H     x     x   rise  held
    H      x     H     x   rise  held
    =====  ====  ====  ==  ====  ===========
    /RCO is low while /ENT is low and Q is 15 (UD high) or 0 (UD low).

Timing
    /RCO follows U/D and /ENT without a clock; in a cascade /RCO goes to /ENT of the next.

Mistakes people make
    Looking for a clear: load zero. Using /RCO as a clock.

Sources
    SN74LS669 data sheet SDLS192: function, pins and figures from memory.
"""

from latchwork.chips.counters.binary_up_down import behaviour, pins
from latchwork.chips.figures import delays, remembered_clock, remembered_pulses, remembered_times
from latchwork.parts import Entry

figures = (
    *delays("LS", ("CLK",), "RCO_n", rise=(26, 40), fall=(40, 60)),
    *delays("LS", ("CLK",), "Q", both=(18, 27)),
    *delays("LS", ("ENT_n",), "RCO_n", rise=(11, 17), fall=(29, 45)),
    *delays("LS", ("UD",), "RCO_n", rise=(22, 35), fall=(26, 40)),
    *remembered_times("LS", "setup", "CLK", P=20, ENP_n=35, ENT_n=35, LOAD_n=25, UD=30),
    *remembered_times("LS", "hold", "CLK", P=0, ENP_n=0, ENT_n=0, LOAD_n=0, UD=0),
    *remembered_pulses("LS", CLK=20),
    remembered_clock("LS", "CLK", 25),
)

entry = Entry(
    number="669",
    title="four-bit binary up and down counter (later)",
    kind="counter",
    families=("LS",),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
