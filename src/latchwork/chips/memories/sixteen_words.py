"""Random access memory of sixteen words by four bits, outputs inverted (189) or true (219).

What it does
    While /CS and /WE are low the addressed word follows D. While /CS is low and /WE high the outputs show the
    addressed word: the 189 its inverse, the 219 the word itself. At all other times they drive nothing.

Pins
    A0 1, /CS 2, /WE 3, D1 4, Q1 5, D2 6, Q2 7, GND 8, Q3 9, D3 10, Q4 11, D4 12, A3 13, A2 14, A1 15, VCC 16. The
    outputs of the 189 have a bar in the sheet and are Q1_n .. Q4_n here.
    Vectors: A is A0 .. A3, D is D1 .. D4, Q (189: Q_n) its outputs.

Function table
    ===  ===  ===============  ==========================
    /CS  /WE  word             outputs
    ===  ===  ===============  ==========================
    H    x    held             off
    L    L    takes D          off
    L    H    held             word (189: its inverse)
    ===  ===  ===============  ==========================

Timing
    Access from the address, enable from /CS; D and A have setup and hold around the write pulse.

Mistakes people make
    Forgetting that the 189 gives back the inverse of what was written. Moving the address during a write.

Sources
    Function: National DM74S189 (general description: complement read out, off while writing or not selected). Pins
    and figures from memory (SN74LS189A, SN74S189, SN74LS219A).
"""

from latchwork.chips.figures import delays, remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import read, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Memory, OutputKind, Write

inverted_pins = dip("""
    A0:i /CS:i /WE:i D1:i /Q1=Q1_n:o D2:i /Q2=Q2_n:o GND
    /Q3=Q3_n:o D3:i /Q4=Q4_n:o D4:i A3:i A2:i A1:i VCC
""")
true_pins = dip("A0:i /CS:i /WE:i D1:i Q1:o D2:i Q2:o GND Q3:o D3:i Q4:o D4:i A3:i A2:i A1:i VCC")

selected, writing = ~variable("CS_n"), ~variable("WE_n")
address = variable("A", 4)
memory = Memory("words", 4, 4, (Write(selected & writing, address, variable("D", 4)),))
word = read("words", address, 4)


def behaviour(end: str) -> Behaviour:
    value = ~word if end == "Q_n" else word
    drive = Drive(end, value, selected & ~writing, OutputKind.THREE_STATE)
    return Behaviour(memories=(memory,), drives=(drive,))


def vectors(end: str, suffix: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return ("A", numbered("A", 4, first=0)), ("D", numbered("D", 4)), (end, numbered("Q", 4, end=suffix))


def figures(end: str) -> tuple[Figure, ...]:
    return (
        *delays("LS", ("A",), end, both=(50, 80), quantity="access"),
        *delays("LS", ("CS_n",), end, both=(35, 60), quantity="enable"),
        *delays("LS", ("CS_n", "WE_n"), end, both=(30, 60), quantity="disable"),
        remembered("LS", "write width", "WE_n", minimum=60),
        remembered("LS", "setup", "D", "WE_n", edge="rise", minimum=60),
        remembered("LS", "setup", "A", "WE_n", edge="fall", minimum=0),
        remembered("LS", "hold", "D", "WE_n", edge="rise", minimum=0),
        remembered("LS", "hold", "A", "WE_n", edge="rise", minimum=0),
    )


schottky_figures = (
    *delays("S", ("A",), "Q_n", both=(25, 35), quantity="access"),
    *delays("S", ("CS_n",), "Q_n", both=(12, 17), quantity="enable"),
    *delays("S", ("CS_n", "WE_n"), "Q_n", both=(12, 25), quantity="disable"),
    remembered("S", "write width", "WE_n", minimum=25),
    remembered("S", "setup", "D", "WE_n", edge="rise", minimum=25),
    remembered("S", "setup", "A", "WE_n", edge="fall", minimum=0),
    remembered("S", "hold", "D", "WE_n", edge="rise", minimum=0),
    remembered("S", "hold", "A", "WE_n", edge="rise", minimum=0),
)

inverting = Entry(
    number="189",
    title="random access memory, 16 by 4, inverted three-state outputs",
    kind="memory",
    families=("LS", "S", "F"),
    pins=inverted_pins,
    vectors=vectors("Q_n", "_n"),
    behaviour=behaviour("Q_n"),
    figures=(*figures("Q_n"), *schottky_figures),
)

entries = (
    inverting,
    inverting.renamed(
        "219",
        title="random access memory, 16 by 4, true three-state outputs",
        families=("LS", "F"),
        pins=true_pins,
        vectors=vectors("Q", ""),
        behaviour=behaviour("Q"),
        figures=figures("Q"),
    ),
)
