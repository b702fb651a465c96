"""Eight-bit shift register for both directions on a bus, with clear at once (299) or with the clock (323).

What it does
    The eight pins I/O are inputs and outputs in one. At the rising edge of CLK: S1, S0 low holds; S0 alone shifts
    from A towards H and takes SRSER into A; S1 alone shifts the other way and takes SLSER into H; both load what
    stands on the pins. The pins drive while /G1 and /G2 are low, but not in load mode. QA' and QH' always show both
    ends, for the next package. /CLR low clears at once (299) or at the rising edge (323).

Pins
    S0 1, /G1 2, /G2 3, G/QG 4, E/QE 5, C/QC 6, A/QA 7, QA' 8, /CLR 9, GND 10, SRSER 11, CLK 12, B/QB 13, D/QD 14,
    F/QF 15, H/QH 16, QH' 17, SLSER 18, S1 19, VCC 20. The pins I/O are named A to H here, QA' and QH' QA_serial and
    QH_serial. The vector P is A to H, A in the lowest bit; S is S0, S1.

Function table
    ====  ==  ==  ====  =============================
    /CLR  S1  S0  CLK   held
    ====  ==  ==  ====  =============================
    L     x   x   x     all L (323: at the edge)
    H     L   L   rise  held
    H     L   H   rise  shifted up, SRSER into A
    H     H   L   rise  shifted down, SLSER into H
    H     H   H   rise  P
    ====  ==  ==  ====  =============================

    The pins show the held word while /G1 and /G2 are low and S1, S0 are not both high; they are off otherwise.

Timing
    Delays from CLK and /CLR to pins and ends; enable and disable from /G1, /G2 and from S.

Mistakes people make
    Leaving load mode while another part still drives the bus. Taking the 323, whose clear waits for the clock.

Sources
    Function: TI CD74AC299, CD74AC323 SCHS288A (function table). Pins and figures from memory (SN74LS299, SN74LS323).
"""

from latchwork.chips.figures import (
    bus_register_currents,
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip
from latchwork.chips.shift.both_ways import next_word
from latchwork.logic import all_of, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

pins = dip("""
    S0:i /G1=G1_n:i /G2=G2_n:i G/QG=G:b E/QE=E:b C/QC=C:b A/QA=A:b QA'=QA_serial:o /CLR:i GND
    SR_SER=SRSER:i CLK:i B/QB=B:b D/QD=D:b F/QF=F:b H/QH=H:b QH'=QH_serial:o SL_SER=SLSER:i S1:i VCC
""")

held, cleared = variable("held", 8), constant(0, 8)
following = next_word(held, variable("P", 8))
shown = ~variable("G1_n") & ~variable("G2_n") & ~all_of(variable("S", 2))

drives = (
    Drive("P", held, shown, OutputKind.THREE_STATE),
    Drive("QA_serial", held[0]),
    Drive("QH_serial", held[7]),
)

clear_at_once = Register("held", 8, (Update(variable("CLK"), following),), (Level(~variable("CLR_n"), cleared),))
clear_at_edge = Register("held", 8, (Update(variable("CLK"), mux(variable("CLR_n"), following, cleared)),))

ENDS, ENABLES = ("QA_serial", "QH_serial"), ("G1_n", "G2_n")

common_figures = (
    *(row for end in ENDS for row in delays("LS", ("CLK",), end, rise=(22, 33), fall=(26, 39))),
    *delays("LS", ("CLK",), "P", rise=(17, 25), fall=(26, 39)),
    *delays("LS", ENABLES, "P", rise=(13, 21), fall=(19, 30), quantity="enable"),
    *delays("LS", ENABLES, "P", both=(10, 15), quantity="disable"),
    *remembered_times("LS", "setup", "CLK", S=35, P=20, SRSER=20, SLSER=20),
    *remembered_times("LS", "hold", "CLK", S=10, P=0, SRSER=0, SLSER=0),
    *remembered_pulses("LS", CLK=20),
    remembered_clock("LS", "CLK", 25),
)

figures = (
    *common_figures,
    *(row for end in ENDS for row in delays("LS", ("CLR_n",), end, fall=(27, 40))),
    *delays("LS", ("CLR_n",), "P", fall=(26, 40)),
    *remembered_pulses("LS", CLR_n=20),
    *(row for end in ENDS for row in delays("HC", ("CLK", "CLR_n"), end, both=(None, 40))),
    *delays("HC", ("CLK", "CLR_n"), "P", both=(None, 40)),
    *delays("HC", ENABLES, "P", both=(None, 31), quantity="enable"),
    *delays("HC", ENABLES, "P", both=(None, 37), quantity="disable"),
    *bus_register_currents("P"),
)

edge_figures = (
    *common_figures,
    *remembered_times("LS", "setup", "CLK", CLR_n=20),
    *remembered_times("LS", "hold", "CLK", CLR_n=0),
    *(row for row in bus_register_currents("P") if row.family == "LS"),
)

at_once = Entry(
    number="299",
    title="eight-bit universal shift register, clear at once",
    kind="shift register",
    families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(("P", tuple("ABCDEFGH")), ("S", ("S0", "S1"))),
    behaviour=Behaviour(registers=(clear_at_once,), drives=drives),
    figures=figures,
)

entries = (
    at_once,
    at_once.renamed(
        "323",
        title="eight-bit universal shift register, clear with the clock",
        families=("LS", "ALS", "F", "AC", "ACT"),
        behaviour=Behaviour(registers=(clear_at_edge,), drives=drives),
        figures=edge_figures,
    ),
)
