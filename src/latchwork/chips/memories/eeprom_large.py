"""Byte-wide EEPROM of 128 K by 8 bits (28C010).

What it does
    Shows the byte at A on D while /CE and /OE are low and /WE is high. A byte is written while /CE and /WE are low and
    /OE is high. Contents outlive power. Modelled so far: a write takes effect at once, as in a RAM. Not modelled yet:
    the write time, data polling, the page buffer of 128 bytes, the write protection sequence.

Pins
    28C010, 32 pins: NC 1, A16 2, A15 3, A12 4, A7 to A0 5 to 12, D0 to D2 13 to 15, GND 16, D3 to D7 17 to 21, /CE 22,
    A10 23, /OE 24, A11 25, A9 26, A8 27, A13 28, A14 29, NC 30, /WE 31, VCC 32. Rows are 600 mil apart. Vectors: A and
    D, lowest bit first.

Function table
    ===  ===  ===  =====================
    /CE  /OE  /WE  D
    ===  ===  ===  =====================
    H    x    x    let go
    L    L    H    shows the byte at A
    L    H    L    taken into the byte at A
    L    H    H    let go
    L    L    L    let go; /OE low forbids writing
    ===  ===  ===  =====================

Timing
    Access from A and /CE; a shorter time from /OE. These are the 150 ns grade.

Mistakes people make
    Leaving /WE open or driven by a counter while the supply rises: bytes get lost.

Sources
    AT28C010 data sheet: pins and figures from memory. Mode table as for the 28C256, checked against a model.
"""

from latchwork.chips.figures import remembered
from latchwork.chips.memories.cells import byte_memory, vectors
from latchwork.chips.memories.eeprom import remembered_figures, strobe
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("""
    NC=NC1:n A16:i A15:i A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:b D1:b D2:b GND
    D3:b D4:b D5:b D6:b D7:b /CE:i A10:i /OE:i A11:i A9:i A8:i A13:i A14:i NC=NC30:n /WE:i VCC
""")

entry = Entry(
    number="28C010",
    title="EEPROM, 128 K by 8",
    kind="memory",
    families=("",),
    pins=pins,
    vectors=vectors(17),
    behaviour=byte_memory(17, strobe, keeps=True),
    figures=(
        remembered("", "access", "A", "D", maximum=150),
        *remembered_figures(address_setup=0, data_hold=0),
        remembered("", "supply current", maximum=40, unit="mA"),
    ),
    width_mil=600,
)
