"""Eight-bit shift register, serial in, parallel out.

What it does
    Each rising edge of CLK shifts by one place from QA towards QH and takes A and B, both high for a one, into QA. /CLR
    low clears at once.

Pins
    164: A 1, B 2, QA to QD 3 to 6, GND 7, CLK 8, /CLR 9, QE to QH 10 to 13, VCC 14. The vector Q is QA to QH, QA
    lowest.

Function table
    ====  ====  =  =  ==================
    /CLR  CLK   A  B  Q
    ====  ====  =  =  ==================
    L     x     x  x  all L
    H     rise  H  H  shifted, H into QA
    H     rise  L  x  shifted, L into QA
    H     rise  x  L  shifted, L into QA
    H     low   x  x  held
    ====  ====  =  =  ==================

Timing
    From CLK and /CLR to the outputs.

Mistakes people make
    Leaving one of A and B open on CMOS. Watching the outputs while they shift: there is no storage as in the 595.

Sources
    Function table and LS times: Fairchild DM74LS164 DS006398 p.2, 3. HC and HCT delays: TI JAJSOB3E. Pins and other
    figures from memory (SN74LS164 data sheet SDLS061; Philips 74HC/HCT164).
"""

from latchwork.chips.figures import LIGHT, LOADED, clock_limit, delays, remembered_pulses, remembered_times, stated
from latchwork.chips.pins import dip
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("A:i B:i QA:o QB:o QC:o QD:o GND CLK:i /CLR:i QE:o QF:o QG:o QH:o VCC")

stages = variable("stages", 8)
shifted = concat(variable("A") & variable("B"), stages[0:7])

behaviour = Behaviour(
    registers=(
        Register("stages", 8, (Update(variable("CLK"), shifted),), (Level(~variable("CLR_n"), constant(0, 8)),)),
    ),
    drives=(Drive("Q", stages),),
)

FAIRCHILD = "Fairchild DM74LS164 DS006398 p.3"

TEXAS = "TI CD74HC164, CD74HCT164 JAJSOB3E, switching characteristics"

figures = (
    *delays("LS", ("CLK",), "Q", rise=(17, 27), fall=(21, 32)),
    *delays("LS", ("CLR_n",), "Q", fall=(24, 36)),
    *(
        row
        for start in "AB"
        for row in (
            stated("LS", "setup", start, "CLK", minimum=17, source=FAIRCHILD),
            stated("LS", "hold", start, "CLK", minimum=5, source=FAIRCHILD),
        )
    ),
    stated("LS", "pulse width", "CLK", minimum=20, source=FAIRCHILD),
    stated("LS", "pulse width", "CLR_n", minimum=20, source=FAIRCHILD),
    stated("LS", "recovery", "CLR_n", "CLK", minimum=30, source=FAIRCHILD),
    stated("LS", "maximum clock", "CLK", minimum=25, unit="MHz", source=FAIRCHILD),
    *delays("HC", ("CLK",), "Q", both=(None, 34), source=TEXAS, conditions=LOADED),
    *delays("HC", ("CLK",), "Q", both=(14, None), source=TEXAS, conditions=LIGHT),
    *delays("HC", ("CLR_n",), "Q", fall=(None, 28), source=TEXAS, conditions=LOADED),
    *delays("HC", ("CLR_n",), "Q", fall=(11, None), source=TEXAS, conditions=LIGHT),
    clock_limit("HC", "CLK", TEXAS, usual=60),
    *remembered_times("HC", "setup", "CLK", A=12, B=12),
    *remembered_times("HC", "hold", "CLK", A=4, B=4),
    *remembered_pulses("HC", CLK=16, CLR_n=12),
    *delays("HCT", ("CLK",), "Q", both=(None, 36), source=TEXAS, conditions=LOADED),
    *delays("HCT", ("CLK",), "Q", both=(15, None), source=TEXAS, conditions=LIGHT),
    *delays("HCT", ("CLR_n",), "Q", fall=(None, 38), source=TEXAS, conditions=LOADED),
    *delays("HCT", ("CLR_n",), "Q", fall=(16, None), source=TEXAS, conditions=LIGHT),
    clock_limit("HCT", "CLK", TEXAS, usual=54),
    stated("HC", "power capacitance", typical=47, unit="pF", source=TEXAS),
    stated("HCT", "power capacitance", typical=49, unit="pF", source=TEXAS),
)

entry = Entry(
    number="164",
    title="eight-bit shift register, serial in, parallel out",
    kind="shift register",
    families=("", "LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("Q", tuple(f"Q{letter}" for letter in "ABCDEFGH")),),
    behaviour=behaviour,
    figures=figures,
)
