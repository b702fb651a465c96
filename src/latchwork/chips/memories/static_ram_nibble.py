"""Static RAM of 1 K by 4 bits (2114).

What it does
    Shows the four bits at A on D while /CS is low and /WE is high; takes D into them while both are low. There is no
    output enable. What is in it after power-up is anything.

Pins
    2114, 18 pins, rows 300 mil apart: A6 1, A5 2, A4 3, A3 4, A0 5, A1 6, A2 7, /CS 8, GND 9, /WE 10, I/O4 to I/O1 11
    to 14, A9 15, A8 16, A7 17, VCC 18. Vectors: A; D is I/O1 to I/O4, named D1 to D4, lowest first.

Function table
    ===  ===  ============================
    /CS  /WE  D
    ===  ===  ============================
    H    x    let go
    L    H    shows the four bits at A
    L    L    taken into the four bits at A
    ===  ===  ============================

Timing
    Access from A and /CS. These are the 200 ns grade.

Mistakes people make
    Driving D as soon as /WE falls: the part lets go only some time later, since nothing but /WE turns it off.

Sources
    Intel 2114A data sheet: function, pins and figures from memory.
"""

from latchwork.chips.figures import remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import read, variable
from latchwork.parts import Behaviour, Drive, Entry, Memory, OutputKind, Write

pins = dip("""
    A6:i A5:i A4:i A3:i A0:i A1:i A2:i /CS:i GND
    /WE:i I/O4=D4:b I/O3=D3:b I/O2=D2:b I/O1=D1:b A9:i A8:i A7:i VCC
""")

selected, written, address = ~variable("CS_n"), ~variable("WE_n"), variable("A", 10)

behaviour = Behaviour(
    memories=(Memory("cells", 4, 10, (Write(selected & written, address, variable("D", 4)),)),),
    drives=(Drive("D", read("cells", address, 4), selected & ~written, OutputKind.THREE_STATE),),
)

figures = (
    remembered("", "access", "A", "D", maximum=200),
    remembered("", "access", "CS_n", "D", maximum=70),
    remembered("", "enable", "CS_n", "D", minimum=20, maximum=70),
    remembered("", "disable", "CS_n", "D", maximum=60),
    remembered("", "disable", "WE_n", "D", maximum=60),
    remembered("", "setup", "A", "WE_n", edge="fall", minimum=0),
    remembered("", "write width", "WE_n", minimum=120),
    remembered("", "setup", "D", "WE_n", edge="rise", minimum=120),
    remembered("", "hold", "D", "WE_n", edge="rise", minimum=0),
)

entry = Entry(
    number="2114",
    title="static RAM, 1 K by 4",
    kind="memory",
    families=("",),
    pins=pins,
    vectors=(("A", numbered("A", 10, first=0)), ("D", numbered("D", 4))),
    behaviour=behaviour,
    figures=figures,
)
