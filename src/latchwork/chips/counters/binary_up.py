"""Four-bit binary up counters with synchronous load: cleared at once (161) or at the clock (163).

What it does
    Counts up at the rising edge of CLK, 15 to 0, while ENP and ENT are high. /LOAD low takes A to D instead. /CLR
    low clears: the 161 at once, whatever the clock does; the 163 at the next rising edge, before load and count.

Pins
    161, 163: /CLR 1, CLK 2, A to D 3 to 6, ENP 7, GND 8, /LOAD 9, ENT 10, QD to QA 11 to 14, RCO 15, VCC 16.
    Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first. D is the highest input bit, not a bus.

Function table
    ====  =====  ===  ===  ====  ===================
    /CLR  /LOAD  ENP  ENT  CLK   Q
    ====  =====  ===  ===  ====  ===================
    L     x      x    x    x     0 (161)
    L     x      x    x    rise  0 (163)
    H     L      x    x    rise  P
    H     H      H    H    rise  Q plus 1
    H     H      L    x    rise  held
    H     H      x    L    rise  held
    ====  =====  ===  ===  ====  ===================
    RCO is high while Q is 15 and ENT is high; ENP does not reach it.

Timing
    A cascade runs RCO to ENT, all ENP in common: clock to RCO, ENT to RCO for each stage between, setup of ENT.

Mistakes people make
    Using RCO as a clock or an asynchronous clear: it may glitch while Q changes. Feeding RCO to ENP of the next:
    the third stage then counts too often. Taking one number for the other: a decoded clear ends a 161 at once and
    a 163 a clock later. The 74161 and 74163 of standard TTL want their enables still while CLK is low and are left
    out here; LS and later families only look at the edge.

Sources
    Motorola MC74F161A p.4-77 (logic equations), ON MC74HC161A (function table, pins); figures beside each row.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered, stated
from latchwork.chips.pins import dip
from latchwork.logic import all_of, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Level, Register, Update

pins = dip("/CLR:i CLK:i A:i B:i C:i D:i ENP:i GND /LOAD:i ENT:i QD:o QC:o QB:o QA:o RCO:o VCC")

clock, clear, load = variable("CLK"), variable("CLR_n"), variable("LOAD_n")
advance, chain = variable("ENP"), variable("ENT")
data, count = variable("P", 4), variable("count", 4)

following = mux(load, mux(advance & chain, count + 1, count), data)
drives = (Drive("Q", count), Drive("RCO", all_of(count, chain)))
cleared_at_once = Behaviour(
    drives, registers=(Register("count", 4, (Update(clock, following),), (Level(~clear, constant(0, 4)),)),)
)
cleared_at_clock = Behaviour(
    drives, registers=(Register("count", 4, (Update(clock, mux(clear, following, constant(0, 4))),)),)
)

_LS = "Hitachi/Renesas HD74LS161A p.4"
_LS_RATED = "SN74LS163 data-book page"
_HC = "ON Semi MC74HC161A/163A p.5"
_HC_LOAD = "4.5 V, 50 pF, 25 degC"

common: tuple[Figure, ...] = (
    stated("LS", "delay", "CLK", "RCO", edge="rise", typical=20, maximum=35, conditions="5 V, 15 pF", source=_LS),
    stated("LS", "delay", "CLK", "RCO", edge="fall", maximum=35, conditions="5 V, 15 pF", source=_LS),
    stated("LS", "delay", "CLK", "Q", edge="rise", typical=13, maximum=24, conditions="5 V, 15 pF", source=_LS),
    stated("LS", "delay", "CLK", "Q", edge="fall", typical=18, maximum=27, conditions="5 V, 15 pF", source=_LS),
    stated("LS", "delay", "ENT", "RCO", maximum=14, conditions="5 V, 15 pF", source=_LS),
    stated("LS", "maximum clock", minimum=25, unit="MHz", conditions="15 pF", source="Fairchild DM74LS161A p.6"),
    stated("LS", "supply current", typical=18, maximum=31, unit="mA", source="Fairchild DM74LS161A p.6"),
    stated("LS", "pulse width", "CLK", minimum=25, source=_LS_RATED),
    stated("LS", "setup", "P", "CLK", minimum=20, source=_LS_RATED),
    stated("LS", "setup", "LOAD_n", "CLK", minimum=20, source=_LS_RATED),
    remembered("LS", "setup", "ENP", "CLK", minimum=20),
    remembered("LS", "setup", "ENT", "CLK", minimum=20),
    stated("LS", "hold", "P", "CLK", minimum=0, source=_LS_RATED),
    stated("LS", "hold", "LOAD_n", "CLK", minimum=0, source=_LS_RATED),
    stated("LS", "hold", "ENP", "CLK", minimum=0, source=_LS_RATED),
    stated("LS", "hold", "ENT", "CLK", minimum=0, source=_LS_RATED),
    stated("HC", "delay", "CLK", "Q", edge="rise", maximum=20, conditions=_HC_LOAD, source=_HC),
    stated("HC", "delay", "CLK", "Q", edge="fall", maximum=22, conditions=_HC_LOAD, source=_HC),
    remembered("HC", "delay", "CLK", "Q", typical=22, maximum=37, conditions=MEMORY_CONDITIONS),
    remembered("HC", "delay", "CLK", "RCO", typical=25, maximum=43, conditions=MEMORY_CONDITIONS),
    stated("HC", "delay", "ENT", "RCO", edge="rise", maximum=16, conditions=_HC_LOAD, source=_HC),
    stated("HC", "delay", "ENT", "RCO", edge="fall", maximum=18, conditions=_HC_LOAD, source=_HC),
    remembered("HC", "delay", "ENT", "RCO", typical=17, maximum=30, conditions=MEMORY_CONDITIONS),
    stated("HC", "maximum clock", minimum=30, unit="MHz", conditions=_HC_LOAD, source=_HC),
    remembered("HC", "setup", "P", "CLK", minimum=16, conditions=MEMORY_CONDITIONS),
    remembered("HC", "setup", "ENP", "CLK", minimum=35, conditions=MEMORY_CONDITIONS),
    remembered("HC", "setup", "ENT", "CLK", minimum=35, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "CLK", "Q", maximum=43, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "CLK", "RCO", maximum=49, conditions=MEMORY_CONDITIONS),
    remembered("HCT", "delay", "ENT", "RCO", maximum=35, conditions=MEMORY_CONDITIONS),
    remembered("F", "delay", "CLK", "Q", maximum=10, conditions=MEMORY_CONDITIONS),
)
figures_161 = (
    stated("LS", "delay", "CLR_n", "Q", edge="fall", maximum=28, conditions="5 V, 15 pF", source=_LS),
    stated("LS", "pulse width", "CLR_n", minimum=20, source=_LS_RATED),
    stated("HC", "delay", "CLR_n", "Q", edge="fall", maximum=20, conditions=_HC_LOAD, source=_HC),
)
figures_163 = (remembered("LS", "setup", "CLR_n", "CLK", minimum=20),)

clearing_at_once = Entry(
    number="161",
    title="four-bit binary counter, asynchronous clear",
    kind="counter",
    families=("LS", "ALS", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=cleared_at_once,
    figures=common + figures_161,
)
entries = (
    clearing_at_once,
    clearing_at_once.renamed(
        "163",
        title="four-bit binary counter, synchronous clear",
        behaviour=cleared_at_clock,
        figures=common + figures_163,
    ),
)
