"""Byte-wide EPROMs: 8 K (27C64), 32 K (27C256) and 64 K (27C512) by 8 bits.

What it does
    Shows the byte at A on D while /CE and /OE are low; the 27C64 wants /PGM high besides. Contents are put in by a
    programmer; programming, its voltages and the identification code are not modelled.

Pins
    27C64, 28 pins: VPP 1, A12 2, A7 to A0 3 to 10, D0 to D2 11 to 13, GND 14, D3 to D7 15 to 19, /CE 20, A10 21, /OE
    22, A11 23, A9 24, A8 25, NC 26, /PGM 27, VCC 28. 27C256: A13 26, A14 27. 27C512: these and A15 1, /OE shares its
    pin 22 with VPP. VPP stands on VCC while the part is read. Rows are 600 mil apart. Vectors: A and D, lowest bit
    first.

Function table
    ===  ===  =====================
    /CE  /OE  D
    ===  ===  =====================
    L    L    shows the byte at A
    L    H    let go
    H    x    let go
    ===  ===  =====================

Timing
    Access from A and /CE; a shorter time from /OE. Suffixes of the part number give the access time; these are the
    120 ns grade of the 27C256, others from memory.

Mistakes people make
    A 28C256 in its socket or the reverse: A14 and /WE stand at other pins. Leaving VPP open.

Sources
    27C256 figures: Atmel AT27C256R p.3-128. Pins (JEDEC byte-wide outline) and other figures from memory.
"""

from latchwork.chips.figures import remembered, stated
from latchwork.chips.memories.cells import read_only, selected, shown, vectors
from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Entry, Figure

_LEFT = "A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:o D1:o D2:o GND"
_RIGHT = "D3:o D4:o D5:o D6:o D7:o /CE:i A10:i"
pins_64 = dip(f"VPP {_LEFT} {_RIGHT} /OE:i A11:i A9:i A8:i NC:n /PGM:i VCC")
pins_256 = dip(f"VPP {_LEFT} {_RIGHT} /OE:i A11:i A9:i A8:i A13:i A14:i VCC")
pins_512 = dip(f"A15:i {_LEFT} {_RIGHT} /OE/VPP=OE_n:i A11:i A9:i A8:i A13:i A14:i VCC")

read_mode = selected & shown

_ATMEL = "Atmel AT27C256R AC table p.3-128"
_GRADE = "AT27C256R-12, 5 V ± 10 %"

figures_256 = (
    stated("", "access", "A", "D", minimum=0, maximum=120, conditions=_GRADE, source=_ATMEL),
    stated("", "access", "CE_n", "D", maximum=120, conditions=_GRADE, source=_ATMEL),
    stated("", "enable", "OE_n", "D", maximum=35, conditions=_GRADE, source=_ATMEL),
    stated("", "disable", "OE_n", "D", maximum=30, conditions=_GRADE, source=_ATMEL),
    stated("", "disable", "CE_n", "D", maximum=30, conditions=_GRADE, source=_ATMEL),
    stated("", "supply current", maximum=20, unit="mA", conditions="5 MHz", source=_ATMEL),
    stated("", "input high", minimum=2.0, unit="V", source=_ATMEL),
    stated("", "input low", maximum=0.8, unit="V", source=_ATMEL),
    stated("", "output high", minimum=2.4, unit="V", conditions="-0.4 mA", source=_ATMEL),
    stated("", "output low", maximum=0.4, unit="V", conditions="2.1 mA", source=_ATMEL),
)


def remembered_figures(access: float, enable: float, release: float) -> tuple[Figure, ...]:
    """The figures of a read from memory: from A and /CE, from /OE, and letting go."""
    return (
        remembered("", "access", "A", "D", maximum=access),
        remembered("", "access", "CE_n", "D", maximum=access),
        remembered("", "enable", "OE_n", "D", maximum=enable),
        remembered("", "disable", "OE_n", "D", maximum=release),
        remembered("", "disable", "CE_n", "D", maximum=release),
    )


middle = Entry(
    number="27C256",
    title="EPROM, 32 K by 8",
    kind="memory",
    families=("",),
    pins=pins_256,
    vectors=vectors(15),
    behaviour=read_only(15, read_mode),
    figures=figures_256,
    width_mil=600,
)
entries = (
    middle.renamed(
        "27C64",
        title="EPROM, 8 K by 8",
        pins=pins_64,
        vectors=vectors(13),
        behaviour=read_only(13, read_mode & variable("PGM_n")),
        figures=remembered_figures(150, 65, 50),
    ),
    middle,
    middle.renamed(
        "27C512",
        title="EPROM, 64 K by 8",
        pins=pins_512,
        vectors=vectors(16),
        behaviour=read_only(16, read_mode),
        figures=remembered_figures(150, 60, 35),
    ),
)
