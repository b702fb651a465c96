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
    LS times: TI SN74LS165A SDLS062D p.7; ALS figures: Fairchild DM74ALS165 p.5; HC delays and pulses: NXP 74HC165 p.8,
    HC setup times: TI CD74HC165. Function, pins and other figures from memory.
"""

from collections.abc import Iterable

from latchwork.chips.figures import LIGHT, LOADED, Pair, clock_limit, delays, pulses, remembered_times, times
from latchwork.chips.pins import dip
from latchwork.logic import concat, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Level, Register, Update

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

TEXAS = "TI SN74LS165A SDLS062D p.7"
TEXAS_HC = "TI CD74HC165 SCHS156D, prerequisite for switching"
NXP = "NXP 74HC165 Rev.03 p.8"
FAIRCHILD, ALS_LOAD = "Fairchild DM74ALS165 p.5", "4.5 to 5.5 V, 0 to 70 degC, 50 pF"


def als(starts: Iterable[str], end: str, rise: Pair, fall: Pair) -> tuple[Figure, ...]:
    return delays("ALS", starts, end, rise=rise, fall=fall, source=FAIRCHILD, conditions=ALS_LOAD)


def hc(starts: Iterable[str], end: str, loaded: Pair, light: float) -> tuple[Figure, ...]:
    """``light``: the usual delay at 5 V with 15 pF."""
    return (
        *delays("HC", starts, end, both=loaded, source=NXP, conditions=LOADED),
        *delays("HC", starts, end, both=(light, None), source=NXP, conditions=LIGHT),
    )


figures = (
    *(row for end in ("QH", "QH_n") for row in delays("LS", CLOCKS, end, rise=(14, 25), fall=(16, 25))),
    *(row for end in ("QH", "QH_n") for row in delays("LS", ("SH_LD_n",), end, rise=(21, 35), fall=(26, 35))),
    *delays("LS", "H", "QH", rise=(13, 25), fall=(24, 30)),
    *delays("LS", "H", "QH_n", rise=(19, 30), fall=(17, 25)),
    *times("LS", "setup", "CLK", TEXAS, SER=20, SH_LD_n=45, CLKINH=30),
    *times("LS", "setup", "SH_LD_n", TEXAS, P=10),
    *times("LS", "hold", "CLK", TEXAS, SER=0, CLKINH=0),
    *times("LS", "hold", "SH_LD_n", TEXAS, P=0),
    *pulses("LS", TEXAS, CLK=25, SH_LD_n=25),
    clock_limit("LS", "CLK", TEXAS, least=25),
    *(row for end in ("QH", "QH_n") for row in als(CLOCKS, end, (7, 13), (9, 14))),
    *(row for end in ("QH", "QH_n") for row in als(("SH_LD_n",), end, (13, 20), (14, 22))),
    *als("H", "QH", (7, 13), (9, 16)),
    *als("H", "QH_n", (8, 15), (9, 16)),
    clock_limit("ALS", "CLK", FAIRCHILD, least=45, usual=60, conditions=ALS_LOAD),
    *(row for end in ("QH", "QH_n") for row in hc(CLOCKS, end, (19, 33), 16)),
    *(row for end in ("QH", "QH_n") for row in hc(("SH_LD_n",), end, (18, 33), 15)),
    *(row for end in ("QH", "QH_n") for row in hc("H", end, (13, 24), 11)),
    *times("HC", "setup", "CLK", TEXAS_HC, LOADED, SER=16, CLKINH=16),
    *times("HC", "setup", "SH_LD_n", TEXAS_HC, LOADED, P=16),
    *remembered_times("HC", "setup", "CLK", SH_LD_n=20),
    *times("HC", "recovery", "CLK", NXP, LOADED, SH_LD_n=20),
    *pulses("HC", NXP, LOADED, CLK=16, SH_LD_n=16),
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
