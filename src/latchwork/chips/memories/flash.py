"""Byte-wide flash memories: 128 K (29F010, SST39SF010A), 256 K (SST39SF020A), 512 K (29F040, SST39SF040) by 8 bits.

What it does
    Shows the byte at A on D while /CE and /OE are low and /WE is high. Only reading is modelled: contents are put in by
    a programmer and outlive power. NOT modelled: the command sequences by which the part is programmed, erased by
    sector or whole, and identified, its status bits while it is busy, and its times. A machine that writes commands
    sees no effect of them. (Erasing changes thousands of cells at once, and a part comes up ready for reading: both
    are beyond what behaviours here can say.)

Pins
    32 pins: A18 1 (NC in the smaller ones), A16 2, A15 3, A12 4, A7 to A0 5 to 12, D0 to D2 13 to 15, GND 16, D3 to D7
    17 to 21, /CE 22, A10 23, /OE 24, A11 25, A9 26, A8 27, A13 28, A14 29, A17 30 (NC in the 128 K ones), /WE 31, VCC
    32. Rows are 600 mil apart. Vectors: A and D, lowest bit first. Many sheets call D0 .. D7 DQ0 .. DQ7.

Function table
    ===  ===  ===  =====================
    /CE  /OE  /WE  D
    ===  ===  ===  =====================
    H    x    x    let go
    L    L    H    shows the byte at A
    L    H    H    let go
    L    x    L    let go
    ===  ===  ===  =====================
    For a programmer: SST39SF byte program 5555 AA, 2AAA 55, 5555 A0, then the byte; sector erase 5555 AA, 2AAA 55,
    5555 80, 5555 AA, 2AAA 55, 30 in the sector of 4 K; chip erase the same with 10 at 5555 (all in hexadecimal).

Timing
    Access from A and /CE; a shorter time from /OE. These are the 70 ns grade. A byte program takes up to 20 us, a
    sector erase up to 25 ms, a chip erase up to 100 ms (SST39SF010A).

Mistakes people make
    Leaving /WE open. Running code from the part while it is programmed: reads then show status bits.

Sources
    Commands: SST S71147-02 May 2001 table 4. SST39SF figures and times from memory (Microchip DS20005022); 29F figures
    and all pins from memory (AMD Am29F010, Am29F040).
"""

from latchwork.chips.figures import remembered
from latchwork.chips.memories.cells import read_only, selected, shown, vectors, written
from latchwork.chips.pins import dip
from latchwork.parts import Entry, Figure, Pin


def pins(first: str, thirtieth: str) -> tuple[Pin, ...]:
    """The JEDEC outline of 32 pins; the sizes differ in pins 1 and 30."""
    return dip(f"""
        {first} A16:i A15:i A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:o D1:o D2:o GND
        D3:o D4:o D5:o D6:o D7:o /CE:i A10:i /OE:i A11:i A9:i A8:i A13:i A14:i {thirtieth} /WE:i VCC
    """)


PINS = {17: pins("NC=NC1:n", "NC=NC30:n"), 18: pins("NC=NC1:n", "A17:i"), 19: pins("A18:i", "A17:i")}
read_mode = selected & shown & ~written


def figures_of(enable: float, release: float) -> tuple[Figure, ...]:
    """The figures of a read at 70 ns, from memory."""
    return (
        remembered("", "access", "A", "D", minimum=0, maximum=70),
        remembered("", "access", "CE_n", "D", maximum=70),
        remembered("", "enable", "OE_n", "D", maximum=enable),
        remembered("", "disable", "OE_n", "D", maximum=release),
        remembered("", "disable", "CE_n", "D", maximum=release),
    )


def flash(number: str, address_width: int, figures: tuple[Figure, ...]) -> Entry:
    return Entry(
        number=number,
        title=f"flash memory, {1 << address_width - 10} K by 8 (reading)",
        kind="memory",
        families=("",),
        pins=PINS[address_width],
        vectors=vectors(address_width),
        behaviour=read_only(address_width, read_mode),
        figures=figures,
        width_mil=600,
    )


entries = (
    flash("29F010", 17, figures_of(30, 20)),
    flash("29F040", 19, figures_of(30, 20)),
    flash("SST39SF010A", 17, figures_of(35, 25)),
    flash("SST39SF020A", 18, figures_of(35, 25)),
    flash("SST39SF040", 19, figures_of(35, 25)),
)
