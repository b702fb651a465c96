"""Four-bit binary counter with one clock for up, one for down, asynchronous load and clear.

What it does
    Counts up at the rising edge of UP while DOWN is high, down at the rising edge of DOWN while UP is high. /LOAD
    low takes A to D at once; CLR high clears at once and goes before load.

Pins
    193: B 1, QB 2, QA 3, DOWN 4, UP 5, QC 6, QD 7, GND 8, D 9, C 10, /LOAD 11, /CO 12, /BO 13, CLR 14, A 15, VCC 16.
    Vectors: P is A, B, C, D; Q is QA, QB, QC, QD, lowest first.

Function table
    ===  =====  ====  ====  ===========
    CLR  /LOAD  UP    DOWN  Q
    ===  =====  ====  ====  ===========
    H    x      x     x     0
    L    L      x     x     P
    L    H      rise  H     Q plus 1
    L    H      H     rise  Q minus 1
    L    H      rise  L     held
    L    H      L     rise  held
    ===  =====  ====  ====  ===========
    /CO is low while Q is 15 and UP is low; /BO is low while Q is 0 and DOWN is low. Both rise with the edge that
    turns the counter over, and clock the next stage: /CO to UP, /BO to DOWN.

Timing
    A ripple cascade: clock to carry for each stage. Carries of all stages low at once rise one after the other.

Mistakes people make
    Leaving the idle clock low: the counter then stands still. Leaving CLR open on TTL: it reads high and clears.

Sources
    SN74LS193 data sheet SDLS074: function, pins and delays from memory. What a clock edge does while the other clock
    is low is left open by the sheet; held is our choice.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered, stated
from latchwork.chips.pins import dip
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("""
    B:i QB:o QA:o DOWN:i UP:i QC:o QD:o GND
    D:i C:i /LOAD:i /CO:o /BO:o CLR:i A:i VCC
""")

up, down, load, clear = variable("UP"), variable("DOWN"), variable("LOAD_n"), variable("CLR")
data, count = variable("P", 4), variable("count", 4)

behaviour = Behaviour(
    registers=(
        Register(
            "count",
            4,
            (Update(up, mux(down, count + 1, count)), Update(down, mux(up, count - 1, count))),
            (Level(clear, constant(0, 4)), Level(~load, data)),
        ),
    ),
    drives=(
        Drive("Q", count),
        Drive("CO_n", ~(count.equals(15) & ~up)),
        Drive("BO_n", ~(count.equals(0) & ~down)),
    ),
)

SHEET = "SN54LS193/SN74LS193 recommended operating conditions, cross-reference data book p.226 (FC74LS193F)"

figures = (
    remembered("LS", "delay", "UP", "CO_n", edge="rise", maximum=26, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "UP", "CO_n", edge="fall", maximum=24, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "DOWN", "BO_n", maximum=24, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "UP", "Q", edge="rise", maximum=38, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "UP", "Q", edge="fall", maximum=47, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "DOWN", "Q", edge="rise", maximum=38, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "DOWN", "Q", edge="fall", maximum=47, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "LOAD_n", "Q", maximum=40, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "CLR", "Q", edge="fall", maximum=35, conditions=MEMORY_CONDITIONS),
    stated("LS", "setup", "P", "LOAD_n", edge="rise", minimum=20, source=SHEET),
    stated("LS", "hold", "P", "LOAD_n", edge="rise", minimum=0, source=SHEET),
    remembered("LS", "hold", "P", "LOAD_n", edge="rise", minimum=5),
    stated("LS", "pulse width", "UP", minimum=20, source=SHEET),
    stated("LS", "pulse width", "DOWN", minimum=20, source=SHEET),
    stated("LS", "pulse width", "LOAD_n", minimum=20, source=SHEET),
    stated("LS", "pulse width", "CLR", minimum=20, source=SHEET),
    stated("LS", "maximum clock", minimum=25, unit="MHz", source=SHEET),
    remembered("HC", "maximum clock", minimum=24, unit="MHz", conditions="4.5 V"),
)

entry = Entry(
    number="193",
    title="four-bit binary counter with two clocks",
    kind="counter",
    families=("", "LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("P", ("A", "B", "C", "D")), ("Q", ("QA", "QB", "QC", "QD"))),
    behaviour=behaviour,
    figures=figures,
)
