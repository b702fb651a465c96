"""Four-bit binary up and down counter, all synchronous.

What it does
    Counts at the rising edge of CLK while /ENP and /ENT are low: up while U/D is high (15 to 0), down while it is
    low (0 to 15). /LOAD low takes A to D instead. There is no clear.

Pins
    169: U/D 1, CLK 2, A to D 3 to 6, /ENP 7, GND 8, /LOAD 9, /ENT 10, QD to QA 11 to 14, /RCO 15, VCC 16.
    Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first. U/D (U and a barred D) is named UD here.

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
    Expecting the enables of a 161: here they are active low. Looking for a clear: load zero. Using /RCO as a clock.

Sources
    Setup, hold, pulse and clock: Fairchild DM74LS169A p.4. Function, pins and other figures from memory (SN74LS169B
    data sheet SDLS134).
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, clock_limit, pulses, remembered, times
from latchwork.chips.pins import dip
from latchwork.logic import mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Register, Update

pins = dip("U//D=UD:i CLK:i A:i B:i C:i D:i /ENP:i GND /LOAD:i /ENT:i QD:o QC:o QB:o QA:o /RCO:o VCC")

clock, load, up = variable("CLK"), variable("LOAD_n"), variable("UD")
advance, chain = variable("ENP_n"), variable("ENT_n")
data, count = variable("P", 4), variable("count", 4)

counted = mux(up, count + 1, count - 1)
following = mux(load, mux(advance | chain, count, counted), data)
at_end = mux(up, count.equals(15), count.equals(0))

behaviour = Behaviour(
    registers=(Register("count", 4, (Update(clock, following),)),),
    drives=(Drive("Q", count), Drive("RCO_n", ~(at_end & ~chain))),
)

FAIRCHILD = "Fairchild DM74LS169A p.4"

figures = (
    remembered("LS", "delay", "CLK", "Q", maximum=23, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLK", "RCO_n", maximum=35, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "ENT_n", "RCO_n", maximum=14, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "UD", "RCO_n", edge="rise", maximum=25, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "UD", "RCO_n", edge="fall", maximum=29, conditions=MEMORY_CONDITIONS),
    *times("LS", "setup", "CLK", FAIRCHILD, P=20, ENP_n=20, ENT_n=20, LOAD_n=25, UD=30),
    *times("LS", "hold", "CLK", FAIRCHILD, P=0, ENP_n=0, ENT_n=0, LOAD_n=0, UD=0),
    *pulses("LS", FAIRCHILD, CLK=25),
    clock_limit("LS", "", FAIRCHILD, least=25),
)

entry = Entry(
    number="169",
    title="four-bit binary up and down counter",
    kind="counter",
    families=("LS", "ALS", "S", "F", "AC"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
