"""Register file of four words by four bits with separate write and read address.

What it does
    While /GW is low the word that WB, WA choose follows D; it keeps the last value when /GW goes high. At the same
    time, and quite apart from it, Q shows the word that RB, RA choose while /GR is low. While /GR is high the
    outputs of the 670 drive nothing, and those of the open-collector 170 let go.

Pins
    D2 1, D3 2, D4 3, RB 4, RA 5, Q4 6, Q3 7, GND 8, Q2 9, Q1 10, /GR 11, /GW 12, WB 13, WA 14, D1 15, VCC 16.
    Vectors: W is WA, WB and R is RA, RB, lowest first; D is D1 .. D4; Q is Q1 .. Q4.

Function table
    ===  ===========  ===  =====================
    /GW  written      /GR  Q
    ===  ===========  ===  =====================
    L    word[W] = D  L    word[R]
    H    none         H    off (170: let go)
    ===  ===========  ===  =====================

    A word that is written and read at once shows D.

Timing
    Delays from the read address, from /GR, and through the word: from D and /GW. D and W have setup and hold around
    the write pulse.

Mistakes people make
    Moving the write address while /GW is low: another word is written. Feeding Q through an adder back to D of the
    same word: the words are latches, and run round.

Sources
    Function: Fairchild DM74LS670 (general description, March 2000); pins and output currents of the LS670: ON
    SN74LS670/D Rev.6. Figures from memory of makers' data sheets.
"""

from latchwork.chips.figures import (
    delays,
    remembered,
    remembered_pulses,
    stated,
)
from latchwork.chips.pins import dip, numbered
from latchwork.logic import read, variable
from latchwork.parts import Behaviour, Drive, Entry, Memory, OutputKind, Write

pins = dip("D2:i D3:i D4:i RB:i RA:i Q4:o Q3:o GND Q2:o Q1:o /GR:i /GW:i WB:i WA:i D1:i VCC")

shown = ~variable("GR_n")
word = read("words", variable("R", 2), 4)
memory = Memory("words", 4, 2, (Write(~variable("GW_n"), variable("W", 2), variable("D", 4)),))

three_state = Behaviour(memories=(memory,), drives=(Drive("Q", word, shown, OutputKind.THREE_STATE),))
open_collector = Behaviour(
    memories=(memory,), drives=(Drive("Q", word | variable("GR_n").repeat(4), None, OutputKind.OPEN_COLLECTOR),)
)

WRITING = (
    remembered("LS", "setup", "D", "GW_n", edge="rise", minimum=10),
    remembered("LS", "setup", "W", "GW_n", edge="fall", minimum=15),
    remembered("LS", "hold", "D", "GW_n", edge="rise", minimum=15),
    remembered("LS", "hold", "W", "GW_n", edge="rise", minimum=5),
    *remembered_pulses("LS", GW_n=25, GR_n=25),
)

open_figures = (
    *delays("", ("R",), "Q", rise=(23, 35), fall=(30, 40)),
    *delays("", ("GR_n",), "Q", rise=(10, 15), fall=(20, 30)),
    *delays("", ("GW_n",), "Q", rise=(25, 40), fall=(34, 45)),
    *delays("", ("D",), "Q", rise=(20, 30), fall=(30, 45)),
    *delays("LS", ("R",), "Q", rise=(25, 40), fall=(24, 40)),
    *delays("LS", ("GR_n",), "Q", rise=(20, 30), fall=(20, 30)),
    *delays("LS", ("GW_n",), "Q", rise=(30, 45), fall=(26, 40)),
    *delays("LS", ("D",), "Q", rise=(30, 45), fall=(22, 35)),
    *WRITING,
)

ON = "ON SN74LS670/D Rev.6"

figures = (
    *delays("LS", ("R",), "Q", rise=(23, 40), fall=(25, 45)),
    *delays("LS", ("GW_n",), "Q", rise=(26, 45), fall=(28, 50)),
    *delays("LS", ("D",), "Q", rise=(25, 45), fall=(23, 40)),
    *delays("LS", ("GR_n",), "Q", rise=(15, 35), fall=(22, 40), quantity="enable"),
    *delays("LS", ("GR_n",), "Q", rise=(16, 35), fall=(30, 50), quantity="disable"),
    *WRITING,
    stated("LS", "output current high", end="Q", unit="mA", maximum=-2.6, source=ON),
    stated("LS", "output current low", end="Q", unit="mA", maximum=24, source=ON),
    *delays("HC", ("R",), "Q", both=(None, 39)),
    *delays("HC", ("GW_n", "D"), "Q", both=(None, 50)),
    *delays("HC", ("GR_n",), "Q", both=(None, 30), quantity="enable"),
    *delays("HC", ("GR_n",), "Q", both=(None, 30), quantity="disable"),
    remembered("HC", "setup", "D", "GW_n", edge="rise", minimum=12),
    remembered("HC", "setup", "W", "GW_n", edge="fall", minimum=12),
    remembered("HC", "hold", "D", "GW_n", edge="rise", minimum=5),
    remembered("HC", "hold", "W", "GW_n", edge="rise", minimum=5),
    *delays("HCT", ("R",), "Q", both=(None, 42)),
    *delays("HCT", ("GW_n", "D"), "Q", both=(None, 53)),
    *delays("HCT", ("GR_n",), "Q", both=(None, 38), quantity="enable"),
    *delays("HCT", ("GR_n",), "Q", both=(None, 35), quantity="disable"),
)

open_entry = Entry(
    number="170",
    title="register file, four by four, open collector",
    kind="register",
    families=("", "LS"),
    pins=pins,
    vectors=(
        ("D", numbered("D", 4)),
        ("Q", numbered("Q", 4)),
        ("W", ("WA", "WB")),
        ("R", ("RA", "RB")),
    ),
    behaviour=open_collector,
    figures=open_figures,
)

entries = (
    open_entry,
    open_entry.renamed(
        "670",
        title="register file, four by four, three-state",
        families=("LS", "HC", "HCT"),
        behaviour=three_state,
        figures=figures,
    ),
)
