"""Byte-wide static RAMs: 2 K (6116) and 32 K (62256) by 8 bits.

What it does
    Shows the byte at A on D while /CE and /OE are low and /WE is high; takes D into it while /CE and /WE are low,
    whatever /OE is. What is in it after power-up is anything.

Pins
    6116, 24 pins: A7 to A0 1 to 8, D0 to D2 9 to 11, GND 12, D3 to D7 13 to 17, /CE 18, A10 19, /OE 20, /WE 21, A9 22,
    A8 23, VCC 24.
    62256, 28 pins: A14 1, A12 2, A7 to A0 3 to 10, D0 to D2 11 to 13, GND 14, D3 to D7 15 to 19, /CE 20, A10 21,
    /OE 22, A11 23, A9 24, A8 25, A13 26, /WE 27, VCC 28.
    Rows are 600 mil apart; both exist in narrow packages too. Vectors: A and D, lowest bit first. Many sheets call /CE
    /CS and D0 .. D7 I/O1 .. I/O8.

Function table
    ===  ===  ===  ========================
    /CE  /OE  /WE  D
    ===  ===  ===  ========================
    H    x    x    let go
    L    L    H    shows the byte at A
    L    x    L    taken into the byte at A
    L    H    H    let go
    ===  ===  ===  ========================

Timing
    Access from A and /CE, a shorter time from /OE. A write ends with the first of /CE and /WE to rise; the address must
    stand all the while.

Mistakes people make
    Moving the address while /WE is low: other bytes are written on the way. Driving D before the chip has let go:
    keep /OE high during a write. Reading before writing: the contents after power-up are anything.

Sources
    Hitachi HM62256B ADE-203-135D (62256: pins), Holtek HT6116-70 p.4 (6116: figures); 6116 pins and 62256 figures
    (70 ns grade) from memory. Mode table from memory, checked against a model in the tests.
"""

from latchwork.chips.figures import remembered, stated
from latchwork.chips.memories.cells import byte_memory, selected, vectors, written
from latchwork.chips.memories.eeprom import pins_16, pins_256
from latchwork.parts import Entry

strobe = selected & written

_HOLTEK = "Holtek HT6116-70 p.4, 3 July 1997"

figures_6116 = (
    stated("", "access", "A", "D", typical=35, source=_HOLTEK),
    remembered("", "access", "A", "D", maximum=70),
    stated("", "access", "CE_n", "D", maximum=70, source=_HOLTEK),
    stated("", "enable", "OE_n", "D", typical=12, maximum=40, source=_HOLTEK),
    stated("", "disable", "OE_n", "D", maximum=30, source=_HOLTEK),
    stated("", "disable", "CE_n", "D", maximum=30, source=_HOLTEK),
    stated("", "disable", "WE_n", "D", maximum=50, source=_HOLTEK),
    stated("", "setup", "A", "WE_n", edge="fall", minimum=20, source=_HOLTEK),
    stated("", "hold", "A", "WE_n", edge="rise", minimum=5, conditions="write recovery", source=_HOLTEK),
    stated("", "setup", "CE_n", "WE_n", edge="rise", minimum=35, source=_HOLTEK),
    stated("", "write width", "WE_n", minimum=25, source=_HOLTEK),
    stated("", "hold", "D", "WE_n", edge="rise", minimum=5, source=_HOLTEK),
)
figures_62256 = (
    remembered("", "access", "A", "D", maximum=70),
    remembered("", "access", "CE_n", "D", maximum=70),
    remembered("", "enable", "OE_n", "D", maximum=35),
    remembered("", "disable", "OE_n", "D", maximum=25),
    remembered("", "setup", "A", "WE_n", edge="rise", minimum=60),
    remembered("", "write width", "WE_n", minimum=50),
    remembered("", "setup", "D", "WE_n", edge="rise", minimum=30),
    remembered("", "hold", "D", "WE_n", edge="rise", minimum=0),
)

small = Entry(
    number="6116",
    title="static RAM, 2 K by 8",
    kind="memory",
    families=("",),
    pins=pins_16,
    vectors=vectors(11),
    behaviour=byte_memory(11, strobe),
    figures=figures_6116,
    width_mil=600,
)
entries = (
    small,
    small.renamed(
        "62256",
        title="static RAM, 32 K by 8",
        pins=pins_256,
        vectors=vectors(15),
        behaviour=byte_memory(15, strobe),
        figures=figures_62256,
    ),
)
