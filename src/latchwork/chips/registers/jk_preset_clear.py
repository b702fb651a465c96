"""Dual JK flip-flop with preset and clear, in two pinouts.

What it does
    J alone sets, K alone clears, both together turn the flip-flop over, none holds it. What J and K are at the
    falling edge of CLK counts, but for the standard TTL 7476, which is pulse-triggered: it gathers J and K all the
    time CLK is high and shows the result when CLK falls. /PRE low sets and /CLR low clears at once; while both are
    low both outputs are high, and which way the flip-flop falls then is not defined (here: cleared).

Pins
    76: 1CLK 1, /1PRE 2, /1CLR 3, 1J 4, VCC 5, 2CLK 6, /2PRE 7, /2CLR 8, 2J 9, /2Q 10, 2Q 11, 2K 12, GND 13, /1Q 14,
    1Q 15, 1K 16. 112: 1CLK 1, 1K 2, 1J 3, /1PRE 4, 1Q 5, /1Q 6, /2Q 7, GND 8, 2Q 9, /2PRE 10, 2J 11, 2K 12, 2CLK 13,
    /2CLR 14, /1CLR 15, VCC 16.

Function table
    ====  ====  =========================  =  =  ===========  ===========
    /PRE  /CLR  CLK                        J  K  Q            /Q
    ====  ====  =========================  =  =  ===========  ===========
    L     H     x                          x  x  H            L
    H     L     x                          x  x  L            H
    L     L     x                          x  x  H            H
    H     H     fall (7476: H, then L)     L  L  held         held
    H     H     fall (7476: H, then L)     H  L  H            L
    H     H     fall (7476: H, then L)     L  H  L            H
    H     H     fall (7476: H, then L)     H  H  turned over  turned over
    ====  ====  =========================  =  =  ===========  ===========

Timing
    Setup is counted to the falling edge of CLK; for the pulse-triggered 7476 to the rising edge already.

Mistakes people make
    Supply pins of the 76 at 5 and 13. Leaving /PRE and /CLR open in CMOS. Taking a 7476 where J or K move while CLK
    is high.

Sources
    Function and pins from memory (SN7476, SN74LS76A, SN74LS112A). LS76: Motorola SN54/74LS76A p.5-79.
    LS112 delays from preset and clear: Fairchild DM74LS112A p.3. HC112: TI CD74HC112 SCHS141J (25 degC, 4.5 V).
    Other figures from memory.
"""

from latchwork.chips.figures import (
    LIGHT,
    clock_limit,
    delays,
    pulses,
    remembered,
    remembered_clock,
    remembered_pulses,
    remembered_times,
    stated,
    times,
)
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.chips.registers.jk import edge_triggered, pulse_triggered, units
from latchwork.parts import Entry

pins = dip("""
    1CLK:i /1PRE:i /1CLR:i 1J:i VCC 2CLK:i /2PRE:i /2CLR:i
    2J:i /2Q:o 2Q:o 2K:i GND /1Q:o 1Q:o 1K:i
""")
corner_pins = dip("""
    1CLK:i 1K:i 1J:i /1PRE:i 1Q:o /1Q:o /2Q:o GND
    2Q:o /2PRE:i 2J:i 2K:i 2CLK:i /2CLR:i /1CLR:i VCC
""")

MOTOROLA = "Motorola SN54/74LS76A, FAST AND LS TTL DATA p.5-79"
FAIRCHILD = "Fairchild DM74LS112A p.3"
TEXAS, USUAL = "TI CD74HC112 SCHS141J", "4.5 V, 25 degC, 50 pF"

ls_figures = (
    *delays("LS", ("CLK", "PRE_n", "CLR_n"), "Q", both=(15, 20), source=MOTOROLA, conditions=LIGHT),
    *delays("LS", ("CLK", "PRE_n", "CLR_n"), "Q_n", both=(15, 20), source=MOTOROLA, conditions=LIGHT),
    clock_limit("LS", "CLK", MOTOROLA, least=30, usual=45),
    stated("LS", "supply current", maximum=6, unit="mA", source=MOTOROLA),
    *times("LS", "setup", "CLK", MOTOROLA, J=20, K=20),
    *times("LS", "hold", "CLK", MOTOROLA, J=0, K=0),
    *pulses("LS", MOTOROLA, CLK=20, PRE_n=25, CLR_n=25),
)

figures = (
    *delays("", ("CLK",), "Q", rise=(16, 25), fall=(25, 40)),
    *delays("", ("CLK",), "Q_n", rise=(16, 25), fall=(25, 40)),
    *delays("", ("PRE_n", "CLR_n"), "Q", rise=(16, 25), fall=(25, 40)),
    *delays("", ("PRE_n", "CLR_n"), "Q_n", rise=(16, 25), fall=(25, 40)),
    remembered("", "setup", "J", "CLK", edge="rise", minimum=0),
    remembered("", "setup", "K", "CLK", edge="rise", minimum=0),
    remembered("", "hold", "J", "CLK", edge="fall", minimum=0),
    remembered("", "hold", "K", "CLK", edge="fall", minimum=0),
    *remembered_pulses("", CLK=20, PRE_n=25, CLR_n=25),
    remembered_clock("", "CLK", 15),
    *ls_figures,
    *delays("HC", ("CLK", "PRE_n", "CLR_n"), "Q", both=(None, 36)),
    *delays("HC", ("CLK", "PRE_n", "CLR_n"), "Q_n", both=(None, 36)),
)

corner_figures = (
    *delays("LS", ("CLK",), "Q", both=(15, 20)),
    *delays("LS", ("CLK",), "Q_n", both=(15, 20)),
    *delays("LS", ("PRE_n",), "Q", rise=(None, 20), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("PRE_n",), "Q_n", fall=(None, 20), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLR_n",), "Q_n", rise=(None, 20), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLR_n",), "Q", fall=(None, 20), source=FAIRCHILD, conditions=LIGHT),
    clock_limit("LS", "CLK", FAIRCHILD, least=30),
    stated("LS", "supply current", typical=4, maximum=6, unit="mA", source=FAIRCHILD),
    *remembered_times("LS", "setup", "CLK", J=20, K=20),
    *remembered_times("LS", "hold", "CLK", J=0, K=0),
    *remembered_pulses("LS", CLK=20, PRE_n=25, CLR_n=25),
    *(
        row
        for end in ("Q", "Q_n")
        for start, usual, most in (("CLK", 14, 35), ("PRE_n", 13, 31), ("CLR_n", 15, 36))
        for load, pair in ((USUAL, (None, most)), (LIGHT, (usual, None)))
        for row in delays("HC", (start,), end, both=pair, source=TEXAS, conditions=load)
    ),
    *(stated("HC", "setup", start, "CLK", minimum=16, source=TEXAS, conditions="4.5 V, 25 degC") for start in "JK"),
    *(stated("HC", "hold", start, "CLK", minimum=0, source=TEXAS, conditions="4.5 V, 25 degC") for start in "JK"),
    *(
        stated("HC", "recovery", start, "CLK", minimum=16, source=TEXAS, conditions="4.5 V, 25 degC")
        for start in ("PRE_n", "CLR_n")
    ),
    *(
        stated("HC", "pulse width", start, minimum=16, source=TEXAS, conditions="4.5 V, 25 degC")
        for start in ("CLK", "PRE_n", "CLR_n")
    ),
    *delays("S", ("CLK",), "Q", rise=(4, 7), fall=(5, 7)),
    *delays("S", ("CLK",), "Q_n", rise=(4, 7), fall=(5, 7)),
    *delays("S", ("PRE_n", "CLR_n"), "Q", both=(5, 7)),
    *delays("S", ("PRE_n", "CLR_n"), "Q_n", both=(5, 7)),
    remembered_clock("S", "CLK", 80),
)

middle = Entry(
    number="76",
    title="dual JK flip-flop with preset and clear, supply at pins 5 and 13",
    kind="register",
    families=("", "LS", "HC"),
    pins=pins,
    vectors=vectors_of(units(preset=True)),
    behaviour=edge_triggered(preset=True),
    behaviours=(("", pulse_triggered(preset=True)),),
    units=units(preset=True),
    figures=figures,
)

entries = (
    middle,
    middle.renamed(
        "112",
        title="dual JK flip-flop with preset and clear",
        families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
        pins=corner_pins,
        behaviours=(),
        figures=corner_figures,
    ),
)
