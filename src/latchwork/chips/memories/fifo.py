"""First-in, first-out memory of 1 K by 9 bits (7202).

What it does
    Takes D at the end of each low pulse of /W and shows words in the same order, the eldest on Q while /R is low; the
    next one's turn comes when /R rises. When it is full writes have no effect, when it is empty reads have none and Q
    stays off. /RS low empties it. /RT low starts reading again at the first word written since the reset.

Pins
    7202, 28 pins, rows 600 mil apart: /W 1, D8 2, D3 to D0 3 to 6, /XI 7, /FF 8, Q0 to Q3 9 to 12, Q8 13, GND 14, /R
    15, Q4 to Q7 16 to 19, /XO//HF 20 (here HF_n), /EF 21, /RS 22, /FL//RT 23 (here RT_n), D7 to D4 24 to 27, VCC 28.
    Vectors: D and Q, lowest bit first. One part alone: /XI to ground. Chains of several in depth are not modelled:
    while /XI is high HF_n stays high.

Function table
    ===  ===  ==  ==  ===========================================
    /RS  /RT  /W  /R  what happens
    ===  ===  ==  ==  ===========================================
    L    x    x   x   empty
    H    L    x   x   reading starts again
    H    H    up  x   D is taken, unless full
    H    H    x   L   Q shows the eldest word, unless empty
    H    H    x   up  the eldest word is gone, unless empty
    ===  ===  ==  ==  ===========================================
    /EF is low while empty, and from the fall of /R on where the last word is read. /FF is low while full, and from the
    fall of /W on where the last place is filled. HF_n is low while more than half full, and from the fall of /W on
    where that write makes it so.

Timing
    Access from /R; flags from /W and /R. These are the 35 ns grade.

Mistakes people make
    Skipping the reset at power-up. Letting /W or /R ring: each extra edge is a word.

Sources
    Function (flags, reset, retransmit): IDT7200/7201A/7202A data sheet p.5.03-6. Pins and figures from memory.
"""

from latchwork.chips.figures import remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import constant, read, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Memory, OutputKind, Register, Update, Write

pins = dip("""
    /W:i D8:i D3:i D2:i D1:i D0:i /XI:i /FF:o Q0:o Q1:o Q2:o Q3:o Q8:o GND
    /R:i Q4:o Q5:o Q6:o Q7:o /XO//HF=HF_n:o /EF:o /RS:i /FL//RT=RT_n:i D7:i D6:i D5:i D4:i VCC
""")

DEPTH = 1024
write_n, read_n, alone = variable("W_n"), variable("R_n"), ~variable("XI_n")
behind, ahead = variable("read_at", 11), variable("write_at", 11)  # one bit more than an address: full or empty
held = ahead - behind
empty, full = held.equals(0), held.equals(DEPTH)
after_write = held + 1

reset, again = ~variable("RS_n"), ~variable("RT_n")
to_start = constant(0, 11)
taken = write_n | full  # rises at the end of a write that is allowed
given = read_n | empty

behaviour = Behaviour(
    registers=(
        Register("write_at", 11, (Update(taken, ahead + 1),), (Level(reset, to_start),)),
        Register("read_at", 11, (Update(given, behind + 1),), (Level(reset | again, to_start),)),
    ),
    memories=(Memory("cells", 9, 10, (Write(taken, ahead[0:10], variable("D", 9), clocked=True),)),),
    drives=(
        Drive("Q", read("cells", behind[0:10], 9), ~given, OutputKind.THREE_STATE),
        Drive("EF_n", ~(empty | (held.equals(1) & ~read_n))),
        Drive("FF_n", ~(full | (held.equals(DEPTH - 1) & ~write_n))),
        Drive("HF_n", ~(alone & (constant(DEPTH // 2, 11).less_than(held) | (held.equals(DEPTH // 2) & ~write_n)))),
    ),
)

figures = (
    remembered("", "access", "R_n", "Q", maximum=35),
    remembered("", "enable", "R_n", "Q", minimum=5, maximum=35),
    remembered("", "disable", "R_n", "Q", maximum=20),
    *(
        remembered("", "delay", start, end, maximum=most)
        for start, end, most in (
            ("R_n", "EF_n", 30),
            ("W_n", "EF_n", 30),
            ("R_n", "FF_n", 30),
            ("W_n", "FF_n", 30),
            ("R_n", "HF_n", 45),
            ("W_n", "HF_n", 45),
            ("RS_n", "EF_n", 45),
            ("RS_n", "FF_n", 45),
            ("RS_n", "HF_n", 45),
        )
    ),
    *(remembered("", "pulse width", strobe, minimum=35) for strobe in ("W_n", "R_n", "RS_n", "RT_n")),
    remembered("", "setup", "D", "W_n", edge="rise", minimum=18),
    remembered("", "hold", "D", "W_n", edge="rise", minimum=0),
)

entry = Entry(
    number="7202",
    title="first-in, first-out memory, 1 K by 9",
    kind="memory",
    families=("",),
    pins=pins,
    vectors=(("D", numbered("D", 9, first=0)), ("Q", numbered("Q", 9, first=0))),
    behaviour=behaviour,
    figures=figures,
    width_mil=600,
)
