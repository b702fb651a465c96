"""Static RAM of 2 K by 8 bits with two ports (7132).

What it does
    Each side reads and writes by itself. Where both are selected at one address, the side that was selected first goes
    on; the other's /BUSY is low and its writes have no effect until the first has gone. What is in it after power-up is
    anything.

Pins
    7132, 48 pins, rows 600 mil apart. Left side: /CEL 1, R/WL 2, /BUSYL 3, A10L 4, /OEL 5, A0L to A9L 6 to 15, I/O0L to
    I/O7L 16 to 23. GND 24. Right side: I/O0R to I/O7R 25 to 32, A9R to A0R 33 to 42, /OER 43, A10R 44, /BUSYR 45, R/WR
    46, /CER 47. VCC 48. Named here: RWL, RWR (high reads), D0L to D7R. Vectors: AL, DL, AR, DR, lowest bit first. /BUSY
    is an open drain output.

Function table
    ===  ===  ===  ===============================
    /CE  R/W  /OE  D of that side
    ===  ===  ===  ===============================
    H    x    x    let go
    L    L    x    taken, unless /BUSY is low
    L    H    L    shows the byte at A
    L    H    H    let go
    ===  ===  ===  ===============================
    Who was first: the side that was selected while the other was not. Where both are selected and their addresses come
    together, the left side goes on; the real part then goes by which address arrived earlier.

Timing
    Access from A and /CE, a shorter time from /OE; /BUSY from A and /CE. These are the 55 ns grade.

Mistakes people make
    Leaving /BUSY without a pull-up. Ignoring /BUSY and losing a write.

Sources
    Function and open drain /BUSY: IDT7132SA/LA data sheet (DSC-2692) p.1, p.13. Pins and figures from memory.
"""

from latchwork.chips.figures import remembered
from latchwork.chips.memories.cells import NAME
from latchwork.chips.pins import dip
from latchwork.logic import read, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Latch, Memory, OutputKind, Write

pins = dip(
    "/CEL:i R//WL=RWL:i /BUSYL:o A10L:i /OEL:i "
    + " ".join(f"A{bit}L:i" for bit in range(10))
    + " "
    + " ".join(f"I/O{bit}L=D{bit}L:b" for bit in range(8))
    + " GND "
    + " ".join(f"I/O{bit}R=D{bit}R:b" for bit in range(8))
    + " "
    + " ".join(f"A{bit}R:i" for bit in reversed(range(10)))
    + " /OER:i A10R:i /BUSYR:o R//WR=RWR:i /CER:i VCC"
)

SIDES = ("L", "R")
selected = {side: ~variable(f"CE{side}_n") for side in SIDES}
address = {side: variable(f"A{side}", 11) for side in SIDES}
together = selected["L"] & selected["R"] & address["L"].equals(address["R"])
right_first = variable("right_first")
busy = {"L": together & right_first, "R": together & ~right_first}


def write(side: str) -> Write:
    strobe = selected[side] & ~variable(f"RW{side}") & ~busy[side]
    return Write(strobe, address[side], variable(f"D{side}", 8))


def drives(side: str) -> tuple[Drive, Drive]:
    enable = selected[side] & variable(f"RW{side}") & ~variable(f"OE{side}_n")
    return (
        Drive(f"D{side}", read(NAME, address[side], 8), enable, OutputKind.THREE_STATE),
        Drive(f"BUSY{side}_n", ~busy[side], kind=OutputKind.OPEN_COLLECTOR),
    )


behaviour = Behaviour(
    latches=(Latch("right_first", 1, ~together, selected["R"] & ~selected["L"]),),
    memories=(Memory(NAME, 8, 11, tuple(write(side) for side in SIDES)),),
    drives=tuple(drive for side in SIDES for drive in drives(side)),
)


def figures_of(side: str) -> tuple[Figure, ...]:
    """One side's figures, from memory."""
    data, pulse = f"D{side}", f"RW{side}"
    return (
        remembered("", "access", f"A{side}", data, maximum=55),
        remembered("", "access", f"CE{side}_n", data, maximum=55),
        remembered("", "enable", f"OE{side}_n", data, maximum=25),
        remembered("", "disable", f"OE{side}_n", data, maximum=30),
        remembered("", "disable", pulse, data, maximum=30),
        *(remembered("", "delay", start, f"BUSY{side}_n", maximum=35) for start in ("AL", "AR", "CEL_n", "CER_n")),
        remembered("", "setup", f"A{side}", pulse, edge="fall", minimum=0),
        remembered("", "write width", pulse, minimum=30),
        remembered("", "setup", data, pulse, edge="rise", minimum=20),
        remembered("", "hold", data, pulse, edge="rise", minimum=0),
    )


entry = Entry(
    number="7132",
    title="static RAM with two ports, 2 K by 8",
    kind="memory",
    families=("",),
    pins=pins,
    vectors=tuple(
        vector
        for side in SIDES
        for vector in (
            (f"A{side}", tuple(f"A{bit}{side}" for bit in range(11))),
            (f"D{side}", tuple(f"D{bit}{side}" for bit in range(8))),
        )
    ),
    behaviour=behaviour,
    figures=tuple(row for side in SIDES for row in figures_of(side)),
    width_mil=600,
)
