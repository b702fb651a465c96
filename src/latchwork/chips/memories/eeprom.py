"""Byte-wide EEPROMs: 2 K (28C16), 8 K (28C64) and 32 K (28C256) by 8 bits.

What it does
    Shows the byte at A on D while /CE and /OE are low and /WE is high. A byte is written while /CE and /WE are low
    and /OE is high. Contents outlive power. Modelled so far: a write takes effect at once, as in a RAM. Not modelled
    yet: the write time (1 to 10 ms), data polling, the page buffer, the write protection sequence.

Pins
    28C16, 24 pins: A7 to A0 1 to 8, D0 to D2 9 to 11, GND 12, D3 to D7 13 to 17, /CE 18, A10 19, /OE 20, /WE 21, A9 22,
    A8 23, VCC 24.
    28C64, 28C256, 28 pins: A12 2, A7 to A0 3 to 10, D0 to D2 11 to 13, GND 14, D3 to D7 15 to 19, /CE 20, A10 21,
    /OE 22, A11 23, A9 24, A8 25, /WE 27, VCC 28. 28C256: A14 1, A13 26. 28C64: pin 26 is not connected; pin 1 is
    RDY/BUSY, open drain, on the plain 28C64 and not connected on the 28C64B: here it is left without a function.
    Rows are 600 mil apart. Vectors: A and D, lowest bit first. Many sheets call D0 .. D7 I/O0 .. I/O7.

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
    Access from A and /CE; a shorter time from /OE. Suffixes of the part number give the access time; these are the
    150 ns grade.

Mistakes people make
    Leaving /WE open or driven by a counter while the supply rises: bytes get lost. Expecting to run code from it
    right after a write. Programming a 28C64 layout into a 28C256 socket without tying A13 and A14.

Sources
    Atmel AT28C256 0006M p.5, 0006K p.3 and 0006H (pins). 28C64: Turbo IC 28C64A-2 (times of reading),
    Microchip 28C64A DS11109H p.2 (levels, currents). 28C16, and pins and times of writing of the 28C64, from memory.
    Mode table from memory, checked against a model in the tests.
"""

from latchwork.chips.figures import remembered, stated
from latchwork.chips.memories.cells import byte_memory, selected, shown, vectors, written
from latchwork.chips.pins import dip
from latchwork.parts import Entry, Figure

pins_16 = dip("""
    A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:b D1:b D2:b GND
    D3:b D4:b D5:b D6:b D7:b /CE:i A10:i /OE:i /WE:i A9:i A8:i VCC
""")
pins_64 = dip("""
    RDY/BUSY=RDY:n A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:b D1:b D2:b GND
    D3:b D4:b D5:b D6:b D7:b /CE:i A10:i /OE:i A11:i A9:i A8:i NC:n /WE:i VCC
""")
pins_256 = dip("""
    A14:i A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:b D1:b D2:b GND
    D3:b D4:b D5:b D6:b D7:b /CE:i A10:i /OE:i A11:i A9:i A8:i A13:i /WE:i VCC
""")

strobe = selected & written & ~shown

_TURBO = "Turbo IC 28C64A-2, AC characteristics, read operation"
_MICROCHIP = "Microchip 28C64A DS11109H p.2 (1996)"
_ATMEL = "Atmel/Microchip AT28C256 0006M p.5, 0006K p.3"


def remembered_figures(address_setup: float, data_hold: float) -> tuple[Figure, ...]:
    """The figures that two sizes share at 150 ns, from memory."""
    return (
        remembered("", "access", "CE_n", "D", maximum=150),
        remembered("", "enable", "OE_n", "D", minimum=0, maximum=70),
        remembered("", "disable", "OE_n", "D", maximum=50),
        *remembered_writing(address_setup, data_hold),
    )


def remembered_writing(address_setup: float, data_hold: float) -> tuple[Figure, ...]:
    """The figures that the three sizes share, from memory."""
    return (
        remembered("", "disable", "CE_n", "D", maximum=50),
        remembered("", "setup", "A", "WE_n", edge="fall", minimum=address_setup),
        remembered("", "hold", "A", "WE_n", edge="fall", minimum=50),
        remembered("", "write width", "WE_n", minimum=100),
        remembered("", "setup", "D", "WE_n", edge="rise", minimum=50),
        remembered("", "hold", "D", "WE_n", edge="rise", minimum=data_hold),
    )


figures_small = (
    remembered("", "access", "A", "D", maximum=150),
    *remembered_figures(address_setup=10, data_hold=10),
    remembered("", "supply current", maximum=30, unit="mA"),
)
figures_64 = (
    stated("", "access", "A", "D", maximum=150, source=_TURBO),
    stated("", "access", "CE_n", "D", maximum=150, source=_TURBO),
    stated("", "enable", "OE_n", "D", maximum=90, source=_TURBO),
    stated("", "disable", "OE_n", "D", minimum=0, maximum=60, source=_TURBO),
    *remembered_writing(address_setup=10, data_hold=10),
    stated("", "supply current", maximum=30, unit="mA", conditions="5 MHz, 5.5 V", source=_MICROCHIP),
    stated("", "input high", minimum=2.0, unit="V", source=_MICROCHIP),
    stated("", "output high", minimum=2.4, unit="V", conditions="-0.4 mA", source=_MICROCHIP),
    stated("", "output low", maximum=0.45, unit="V", conditions="2.1 mA", source=_MICROCHIP),
)
figures_256 = (
    stated("", "access", "A", "D", maximum=150, conditions="5 V ± 10 %", source=_ATMEL),
    *remembered_figures(address_setup=0, data_hold=0),
    stated("", "supply current", maximum=50, unit="mA", conditions="5 MHz", source=_ATMEL),
    stated("", "input high", minimum=2.0, unit="V", source=_ATMEL),
    stated("", "input low", maximum=0.8, unit="V", source=_ATMEL),
    stated("", "output low", maximum=0.45, unit="V", conditions="2.1 mA", source=_ATMEL),
)

smallest = Entry(
    number="28C16",
    title="EEPROM, 2 K by 8",
    kind="memory",
    families=("",),
    pins=pins_16,
    vectors=vectors(11),
    behaviour=byte_memory(11, strobe, keeps=True),
    figures=figures_small,
    width_mil=600,
)
entries = (
    smallest,
    smallest.renamed(
        "28C64",
        title="EEPROM, 8 K by 8",
        pins=pins_64,
        vectors=vectors(13),
        behaviour=byte_memory(13, strobe, keeps=True),
        figures=figures_64,
    ),
    smallest.renamed(
        "28C256",
        title="EEPROM, 32 K by 8",
        pins=pins_256,
        vectors=vectors(15),
        behaviour=byte_memory(15, strobe, keeps=True),
        figures=figures_256,
    ),
)
