"""Four-bit binary up and down counter with three-state outputs and two ways to clear.

What it does
    Counts at the rising edge of CLK while /ENP and /ENT are low: up while U/D is high, down while it is low. /SCLR low
    clears and /LOAD low takes A to D at the edge, clear first; /ACLR low clears at once. /OE high lets Q go; the
    counter runs on.

Pins
    569: U/D 1, CLK 2, A to D 3 to 6, /ENP 7, /ACLR 8, /SCLR 9, GND 10, /LOAD 11, /ENT 12, QD to QA 13 to 16, /OE 17,
    /CCO 18, /RCO 19, VCC 20. Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first. U/D is named UD here.

Function table
    =====  =====  =====  ====  ====  ==  ====  ===========
    /ACLR  /SCLR  /LOAD  /ENP  /ENT  UD  CLK   Q
    =====  =====  =====  ====  ====  ==  ====  ===========
    L      x      x      x     x     x   x     0
    H      L      x      x     x     x   rise  0
    H      H      L      x     x     x   rise  P
    H      H      H      L     L     H   rise  Q plus 1
    H      H      H      L     L     L   rise  Q minus 1
    H      H      H      H     x     x   rise  held
    H      H      H      x     H     x   rise  held
    =====  =====  =====  ====  ====  ==  ====  ===========
    /RCO is low while /ENT is low and Q is 15 (up) or 0 (down). /CCO is low while /RCO, /ENP and CLK are low and
    /SCLR and /LOAD are high: a pulse that may serve as a clock. Both drive whatever /OE is.

Timing
    /RCO from CLK, /ENT, U/D; Q enabled and disabled by /OE.

Mistakes people make
    Using /RCO as a clock where /CCO is meant for it. Leaving /ACLR open.

Sources
    SN74ALS569A data sheet SDAS229, 74F569 (truth table of /CCO): function, pins and figures from memory.
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

pins = dip("""
    U//D=UD:i CLK:i A:i B:i C:i D:i /ENP:i /ACLR:i /SCLR:i GND
    /LOAD:i /ENT:i QD:o QC:o QB:o QA:o /OE:i /CCO:o /RCO:o VCC
""")

clock, load, up, clear = variable("CLK"), variable("LOAD_n"), variable("UD"), variable("SCLR_n")
advance, chain = variable("ENP_n"), variable("ENT_n")
data, count = variable("P", 4), variable("count", 4)

counted = mux(advance | chain, count, mux(up, count + 1, count - 1))
following = mux(clear, mux(load, counted, data), constant(0, 4))
carry = ~chain & mux(up, count.equals(15), count.equals(0))

behaviour = Behaviour(
    registers=(Register("count", 4, (Update(clock, following),), (Level(~variable("ACLR_n"), constant(0, 4)),)),),
    drives=(
        Drive("Q", count, ~variable("OE_n"), OutputKind.THREE_STATE),
        Drive("RCO_n", ~carry),
        Drive("CCO_n", ~(carry & ~advance & ~clock & clear & load)),
    ),
)

figures = (
    *delays("ALS", ("CLK",), "Q", both=(None, 16)),
    *delays("ALS", ("ACLR_n",), "Q", fall=(None, 20)),
    *delays("ALS", ("OE_n",), "Q", both=(None, 24), quantity="enable"),
    *delays("ALS", ("OE_n",), "Q", both=(None, 14), quantity="disable"),
    *delays("ALS", ("CLK",), "RCO_n", both=(None, 28)),
    *delays("ALS", ("ENT_n",), "RCO_n", both=(None, 16)),
    *delays("ALS", ("UD",), "RCO_n", both=(None, 22)),
    *delays("ALS", ("CLK",), "CCO_n", both=(None, 17)),
    *delays("ALS", ("ENP_n", "ENT_n"), "CCO_n", both=(None, 18)),
    *remembered_times("ALS", "setup", "CLK", P=10, LOAD_n=15, SCLR_n=15, ENP_n=15, ENT_n=15, UD=15),
    *remembered_pulses("ALS", CLK=16, ACLR_n=15),
)

entry = Entry(
    number="569",
    title="four-bit binary up and down counter, three-state",
    kind="counter",
    families=("LS", "ALS", "F"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
