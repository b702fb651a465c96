"""Eight-bit shift register with parallel inputs and a serial output.

What it does
    While SH//LD is low it takes the inputs A to H at once, whatever the clock does. While it is high each rising
    edge of CLK shifts by one place from A towards H and takes SER into A. CLKINH high stops the shifting. QH shows
    the last place, /QH its inverse.

Pins
    SH//LD 1 (here SH_LD_n), CLK 2, E to H 3 to 6, /QH 7, GND 8, QH 9, SER 10, A to D 11 to 14, CLKINH 15, VCC 16.
    The vector P is A to H, A in the lowest bit.

Function table
    ======  ======  ======  ========================
    SH//LD  CLKINH  CLK     held
    ======  ======  ======  ========================
    L       x       x       A to H
    H       L       rise    shifted, SER into A
    H       rise    L       shifted, SER into A
    H       H       x       held
    H       x       H       held
    ======  ======  ======  ========================

Timing
    Delays from the clock, from SH//LD, and from H while loading.

Mistakes people make
    Raising CLKINH while CLK is low: clock and inhibit are joined by an OR, the edge counts as a clock. Change it
    only while CLK is high. Expecting the load to wait for the clock.

Sources
    Function, pins and figures from memory (SN74LS165A data sheet SDLS062; Philips 74HC/HCT165).
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip
from latchwork.logic import concat, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("SH//LD=SH_LD_n:i CLK:i E:i F:i G:i H:i /QH:o GND QH:o SER:i A:i B:i C:i D:i CLKINH:i VCC")

held = variable("held", 8)
shifted = concat(variable("SER"), held[0:7])
clock = variable("CLK") | variable("CLKINH")
load = Level(~variable("SH_LD_n"), variable("P", 8))

behaviour = Behaviour(
    registers=(Register("held", 8, (Update(clock, shifted),), (load,)),),
    drives=(Drive("QH", held[7]), Drive("QH_n", ~held[7])),
)

CLOCKS = ("CLK", "CLKINH")

figures = (
    *(row for end in ("QH", "QH_n") for row in delays("LS", CLOCKS, end, rise=(14, 25), fall=(16, 25))),
    *(row for end in ("QH", "QH_n") for row in delays("LS", ("SH_LD_n",), end, rise=(21, 35), fall=(26, 35))),
    *delays("LS", "H", "QH", rise=(13, 25), fall=(24, 30)),
    *delays("LS", "H", "QH_n", rise=(19, 30), fall=(17, 25)),
    *remembered_times("LS", "setup", "CLK", SER=20, SH_LD_n=45, CLKINH=30),
    *remembered_times("LS", "setup", "SH_LD_n", P=10),
    *remembered_pulses("LS", CLK=25, SH_LD_n=15),
    remembered_clock("LS", "CLK", 25),
    *(row for end in ("QH", "QH_n") for row in delays("HC", CLOCKS, end, both=(None, 33))),
    *(row for end in ("QH", "QH_n") for row in delays("HC", ("SH_LD_n",), end, both=(None, 35))),
    *(row for end in ("QH", "QH_n") for row in delays("HC", "H", end, both=(None, 24))),
    *remembered_times("HC", "setup", "CLK", SER=16, SH_LD_n=20, CLKINH=16),
    *(row for end in ("QH", "QH_n") for row in delays("HCT", CLOCKS, end, both=(None, 34))),
    *(row for end in ("QH", "QH_n") for row in delays("HCT", ("SH_LD_n",), end, both=(None, 40))),
    *(row for end in ("QH", "QH_n") for row in delays("HCT", "H", end, both=(None, 28))),
    *remembered_times("HCT", "setup", "CLK", SER=20, SH_LD_n=20, CLKINH=20),
)

entry = Entry(
    number="165",
    title="eight-bit shift register, parallel in, serial out",
    kind="shift register",
    families=("", "LS", "ALS", "HC", "HCT"),
    pins=pins,
    vectors=(("P", tuple("ABCDEFGH")),),
    behaviour=behaviour,
    figures=figures,
)
