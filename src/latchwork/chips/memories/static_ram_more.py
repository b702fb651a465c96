"""Byte-wide static RAMs: 8 K (6264), 128 K (628128, AS6C1008) and 512 K (AS6C4008) by 8 bits.

What it does
    Shows the byte at A on D while the part is selected, /OE is low and /WE is high; takes D into it while it is
    selected and /WE is low, whatever /OE is. 6264, 628128 and AS6C1008 are selected while /CE is low and CE2 high, the
    AS6C4008 while /CE is low. What is in it after power-up is anything.

Pins
    6264, 28 pins: NC 1, A12 2, A7 to A0 3 to 10, D0 to D2 11 to 13, GND 14, D3 to D7 15 to 19, /CE 20 (/CE1, /CS1), A10
    21, /OE 22, A11 23, A9 24, A8 25, CE2 26, /WE 27, VCC 28.
    628128, AS6C1008, 32 pins: NC 1, A16 2, A14 3, A12 4, A7 to A0 5 to 12, D0 to D2 13 to 15, GND 16, D3 to D7 17 to
    21, /CE 22, A10 23, /OE 24, A11 25, A9 26, A8 27, A13 28, /WE 29, CE2 30, A15 31, VCC 32. AS6C4008: A18 1, A17 30.
    Rows are 600 mil apart. Vectors: A and D, lowest bit first.

Function table
    ========  ===  ===  ========================
    selected  /OE  /WE  D
    ========  ===  ===  ========================
    no        x    x    let go
    yes       L    H    shows the byte at A
    yes       x    L    taken into the byte at A
    yes       H    H    let go
    ========  ===  ===  ========================

Timing
    Access from A and from the selects, a shorter time from /OE. A write ends with the first of /WE and the selects to
    end; the address must stand all the while.

Mistakes people make
    Leaving CE2 open. Moving the address while /WE is low. Driving D before the chip has let go.

Sources
    AS6C4008 (pins, modes, levels, supply): Alliance Memory, August 2009 v1.4 p.2, 3. Other pins, the modes of the other
    parts and all times from memory (HM6264, HM628128, AS6C1008).
"""

from latchwork.chips.figures import remembered, stated
from latchwork.chips.memories.cells import NAME, selected, shown, vectors, written
from latchwork.chips.pins import dip
from latchwork.logic import Expression, read, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Memory, OutputKind, Pin, Write

pins_64 = dip("""
    NC:n A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:b D1:b D2:b GND
    D3:b D4:b D5:b D6:b D7:b /CE1=CE_n:i A10:i /OE:i A11:i A9:i A8:i CE2:i /WE:i VCC
""")


def pins_32(first: str, thirtieth: str) -> tuple[Pin, ...]:
    """The JEDEC outline of 32 pins; the sizes differ in pins 1 and 30."""
    return dip(f"""
        {first} A16:i A14:i A12:i A7:i A6:i A5:i A4:i A3:i A2:i A1:i A0:i D0:b D1:b D2:b GND
        D3:b D4:b D5:b D6:b D7:b /CE:i A10:i /OE:i A11:i A9:i A8:i A13:i /WE:i {thirtieth} A15:i VCC
    """)


def memory(address_width: int, on: Expression) -> Behaviour:
    """A byte-wide RAM that takes part while ``on`` is 1."""
    address = variable("A", address_width)
    return Behaviour(
        memories=(Memory(NAME, 8, address_width, (Write(on & written, address, variable("D", 8)),)),),
        drives=(Drive("D", read(NAME, address, 8), on & shown & ~written, OutputKind.THREE_STATE),),
    )


both = selected & variable("CE2")


def times(access: float, enable: float, release: float, width: float, setup: float) -> tuple[Figure, ...]:
    """From memory. ``width``: of the write pulse, ``setup``: of data before its end."""
    return (
        remembered("", "access", "A", "D", maximum=access),
        remembered("", "access", "CE_n", "D", maximum=access),
        remembered("", "enable", "OE_n", "D", maximum=enable),
        remembered("", "disable", "OE_n", "D", maximum=release),
        remembered("", "disable", "WE_n", "D", maximum=release),
        remembered("", "setup", "A", "WE_n", edge="fall", minimum=0),
        remembered("", "write width", "WE_n", minimum=width),
        remembered("", "setup", "D", "WE_n", edge="rise", minimum=setup),
        remembered("", "hold", "D", "WE_n", edge="rise", minimum=0),
    )


second_select = remembered("", "access", "CE2", "D", maximum=70)
_ALLIANCE = "Alliance Memory AS6C4008, August 2009 v1.4 p.3"
levels_4008 = (
    stated("", "input high", minimum=2.4, unit="V", conditions="4.5 to 5.5 V", source=_ALLIANCE),
    stated("", "input low", maximum=0.8, unit="V", conditions="4.5 to 5.5 V", source=_ALLIANCE),
    stated("", "output high", minimum=2.4, unit="V", conditions="-1 mA", source=_ALLIANCE),
    stated("", "output low", maximum=0.4, unit="V", conditions="2 mA", source=_ALLIANCE),
    stated("", "supply current", typical=30, maximum=60, unit="mA", conditions="55 ns cycle", source=_ALLIANCE),
    stated("", "supply range", minimum=2.7, maximum=5.5, unit="V", source=_ALLIANCE),
)

small = Entry(
    number="6264",
    title="static RAM, 8 K by 8",
    kind="memory",
    families=("",),
    pins=pins_64,
    vectors=vectors(13),
    behaviour=memory(13, both),
    figures=(*times(70, 35, 30, 40, 30), second_select),
    width_mil=600,
)
middle = small.renamed(
    "628128",
    title="static RAM, 128 K by 8",
    pins=pins_32("NC:n", "CE2:i"),
    vectors=vectors(17),
    behaviour=memory(17, both),
    figures=(*times(70, 35, 25, 50, 30), second_select),
)
entries = (
    small,
    middle,
    middle.renamed(
        "AS6C1008",
        title="static RAM, 128 K by 8, low power",
        figures=(*times(55, 30, 20, 45, 25), remembered("", "access", "CE2", "D", maximum=55)),
    ),
    small.renamed(
        "AS6C4008",
        title="static RAM, 512 K by 8, low power",
        pins=pins_32("A18:i", "A17:i"),
        vectors=vectors(19),
        behaviour=memory(19, selected),
        figures=(*times(55, 30, 20, 45, 25), *levels_4008),
    ),
)
