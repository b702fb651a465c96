"""Eight-bit shift register with parallel inputs, loaded at the clock, and a serial output.

What it does
    At each rising edge of CLK while CLKINH is low it shifts from A towards H and takes SER into A, or takes A to H
    where SH//LD is low. /CLR low clears at once. QH shows the last place.

Pins
    166: SER 1, A to D 2 to 5, CLKINH 6, CLK 7, GND 8, /CLR 9, E to G 10 to 12, QH 13, H 14, SH//LD 15 (here SH_LD_n),
    VCC 16. The vector P is A to H, A in the lowest bit.

Function table
    ====  ======  ======  ======  ====================
    /CLR  SH//LD  CLKINH  CLK     held
    ====  ======  ======  ======  ====================
    L     x       x       x       all L
    H     L       L       rise    A to H
    H     H       L       rise    shifted, SER into A
    H     x       H       x       held
    ====  ======  ======  ======  ====================

Timing
    From the clock and /CLR to QH.

Mistakes people make
    Raising CLKINH while CLK is low: clock and inhibit are joined by an OR, the edge counts as a clock. Expecting the
    load of a 165, which is at once.

Sources
    ALS figures: TI SN74ALS166 SDAS156D p.4. Function, pins and other figures from memory (SN74LS166A data sheet
    SDLS117; Philips 74HC/HCT166).
"""

from latchwork.chips.figures import delays, remembered_clock, remembered_pulses, remembered_times, stated
from latchwork.chips.pins import dip
from latchwork.logic import concat, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("SER:i A:i B:i C:i D:i CLKINH:i CLK:i GND /CLR:i E:i F:i G:i QH:o H:i SH//LD=SH_LD_n:i VCC")

held = variable("held", 8)
shifted = concat(variable("SER"), held[0:7])
clock = variable("CLK") | variable("CLKINH")

behaviour = Behaviour(
    registers=(
        Register(
            "held",
            8,
            (Update(clock, mux(variable("SH_LD_n"), shifted, variable("P", 8))),),
            (Level(~variable("CLR_n"), constant(0, 8)),),
        ),
    ),
    drives=(Drive("QH", held[7]),),
)

CLOCKS = ("CLK", "CLKINH")

TI, _WHOLE_RANGE = "TI SN74ALS166 SDAS156D p.4", "recommended range, 50 pF"

figures = (
    *delays("LS", CLOCKS, "QH", rise=(14, 25), fall=(16, 30)),
    *delays("LS", ("CLR_n",), "QH", fall=(19, 30)),
    *remembered_times("LS", "setup", "CLK", P=20, SER=20, SH_LD_n=30),
    *remembered_pulses("LS", CLK=20, CLR_n=20),
    remembered_clock("LS", "CLK", 25),
    *delays("ALS", CLOCKS, "QH", rise=(7, 12), fall=(9, 13), source=TI, conditions=_WHOLE_RANGE),
    *delays("ALS", ("CLR_n",), "QH", fall=(9, 14), source=TI, conditions=_WHOLE_RANGE),
    stated("ALS", "setup", "SH_LD_n", "CLK", minimum=16, source=TI),
    stated("ALS", "setup", "P", "CLK", minimum=7, source=TI),
    stated("ALS", "setup", "SER", "CLK", minimum=7, source=TI),
    stated("ALS", "hold", "P", "CLK", minimum=3, source=TI),
    stated("ALS", "hold", "SER", "CLK", minimum=3, source=TI),
    stated("ALS", "recovery", "CLR_n", "CLK", minimum=11, source=TI),
    stated("ALS", "pulse width", "CLK", minimum=10, source=TI),
    stated("ALS", "pulse width", "CLR_n", minimum=9, source=TI),
    stated("ALS", "maximum clock", "CLK", minimum=45, unit="MHz", source=TI),
    stated("ALS", "supply current", typical=14, maximum=24, unit="mA", source=TI),
    *delays("HC", CLOCKS, "QH", both=(None, 30)),
    *delays("HC", ("CLR_n",), "QH", fall=(None, 26)),
    *delays("HCT", CLOCKS, "QH", both=(None, 40)),
    *delays("HCT", ("CLR_n",), "QH", fall=(None, 40)),
)

entry = Entry(
    number="166",
    title="eight-bit shift register, clocked load, serial out",
    kind="shift register",
    families=("", "LS", "ALS", "HC", "HCT"),
    pins=pins,
    vectors=(("P", tuple("ABCDEFGH")),),
    behaviour=behaviour,
    figures=figures,
)
