"""Three-to-eight decoder with three enables.

What it does
    The output whose number stands on C, B, A goes low while G1 is high and /G2A and /G2B are low; the others, and
    all of them while not enabled, are high.

Pins
    138: A, B, C 1 to 3, /G2A 4, /G2B 5, G1 6, Y7 7, GND 8, Y6 to Y0 9 to 15, VCC 16.
    Vectors: S is A, B, C, lowest first; Y is Y0 .. Y7, active low although the sheet draws no bar.

Function table
    ==  ====  ====  =========================
    G1  /G2A  /G2B  Y
    ==  ====  ====  =========================
    L   x     x     all high
    x   H     x     all high
    x   x     H     all high
    H   L     L     Y[S] low, the others high
    ==  ====  ====  =========================

Timing
    Slower from G1 than from the other enables, and through three levels of gates than through two.

Mistakes people make
    Gating a write strobe with outputs that glitch while S moves: hold an enable back until S stands. Reading C as
    the lowest bit.

Sources
    Nexperia/NXP 74HC138 Rev.4 general description; IN74LS138 function table. Pins from memory (TI sheet).
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import case, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("A:i B:i C:i /G2A=G2A_n:i /G2B=G2B_n:i G1:i Y7:o GND Y6:o Y5:o Y4:o Y3:o Y2:o Y1:o Y0:o VCC")

select = variable("S", 3)
enabled = variable("G1") & ~variable("G2A_n") & ~variable("G2B_n")
none = constant(0xFF, 8)
chosen = case(select, {number: constant(0xFF ^ 1 << number, 8) for number in range(8)}, none)

behaviour = Behaviour(drives=(Drive("Y", mux(enabled, chosen, none)),))

_NXP = "NXP 74HC138/74HCT138 Rev.4 Table 7"
_HCT = "4.5 V, 50 pF, 25 degC"

figures = (
    remembered("LS", "delay", "S", "Y", edge="rise", typical=21, maximum=27, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "S", "Y", edge="fall", typical=18, maximum=41, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "G2A_n", "Y", edge="rise", maximum=18, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "G2A_n", "Y", edge="fall", maximum=32, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "G2B_n", "Y", edge="rise", maximum=18, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "G2B_n", "Y", edge="fall", maximum=32, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "G1", "Y", edge="rise", maximum=26, conditions=MEMORY_CONDITIONS),
    remembered("LS", "delay", "G1", "Y", edge="fall", maximum=38, conditions=MEMORY_CONDITIONS),
    stated("LS", "supply current", typical=6.3, maximum=10, unit="mA", source="Fairchild DM74LS138 p.3"),
    remembered("HC", "delay", "S", "Y", typical=15, maximum=30, conditions=MEMORY_CONDITIONS),
    stated("HC", "power capacitance", typical=67, unit="pF", source=_NXP),
    stated("HCT", "delay", "S", "Y", typical=20, maximum=35, conditions=_HCT, source=_NXP),
    stated("HCT", "delay", "G1", "Y", typical=18, maximum=40, conditions=_HCT, source=_NXP),
    stated("HCT", "delay", "G2A_n", "Y", typical=19, maximum=40, conditions=_HCT, source=_NXP),
    stated("HCT", "delay", "G2B_n", "Y", typical=19, maximum=40, conditions=_HCT, source=_NXP),
    stated("HCT", "power capacitance", typical=67, unit="pF", source=_NXP),
)

entry = Entry(
    number="138",
    title="three-to-eight decoder",
    kind="decoder",
    families=("LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("S", ("A", "B", "C")), ("Y", numbered("Y", 8, first=0))),
    behaviour=behaviour,
    figures=figures,
)
