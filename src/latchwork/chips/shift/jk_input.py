"""Four-bit shift register with parallel load, clear and a J-/K serial input.

What it does
    At the rising edge of CLK it loads A to D while SH//LD is low. While SH//LD is high it shifts from QA towards QD;
    QA becomes J where it was low and /K where it was high. With J and /K joined they are one serial input. /CLR low
    clears at once.

Pins
    /CLR 1, J 2, /K 3, A to D 4 to 7, GND 8, SH//LD 9 (here SH_LD_n), CLK 10, /QD 11, QD to QA 12 to 15, VCC 16.
    The vector P is A to D and Q is QA to QD, A in the lowest bit.

Function table
    ====  ======  ====  =  ==  ======================
    /CLR  SH//LD  CLK   J  /K  held
    ====  ======  ====  =  ==  ======================
    L     x       x     x  x   all L
    H     L       rise  x  x   P
    H     H       rise  L  L   shifted, QA L
    H     H       rise  H  H   shifted, QA H
    H     H       rise  L  H   shifted, QA as it was
    H     H       rise  H  L   shifted, QA turned over
    H     x       L, H  x  x   held
    ====  ======  ====  =  ==  ======================

Timing
    SH//LD needs a longer setup than the data.

Mistakes people make
    Expecting it to hold: it loads or shifts at every edge. Connecting only J of the serial input.

Sources
    Function, pins and figures from memory of makers' data sheets (SN74195, SN74LS195A).
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.pins import dip
from latchwork.logic import concat, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Update

pins = dip("""
    /CLR:i J:i /K:i A:i B:i C:i D:i GND
    SH//LD=SH_LD_n:i CLK:i /QD:o QD:o QC:o QB:o QA:o VCC
""")

held = variable("held", 4)
first = mux(held[0], variable("K_n"), variable("J"))
data = mux(variable("SH_LD_n"), concat(first, held[0:3]), variable("P", 4))

behaviour = Behaviour(
    registers=(Register("held", 4, (Update(variable("CLK"), data),), (Level(~variable("CLR_n"), constant(0, 4)),)),),
    drives=(Drive("Q", held), Drive("QD_n", ~held[3])),
)

figures = (
    *delays("", ("CLK",), "Q", rise=(14, 22), fall=(17, 26)),
    *delays("", ("CLK",), "QD_n", rise=(14, 22), fall=(17, 26)),
    *delays("", ("CLR_n",), "Q", fall=(19, 30)),
    *delays("LS", ("CLK",), "Q", rise=(14, 22), fall=(17, 26)),
    *delays("LS", ("CLK",), "QD_n", rise=(14, 22), fall=(17, 26)),
    *delays("LS", ("CLR_n",), "Q", fall=(19, 30)),
    *delays("LS", ("CLR_n",), "QD_n", rise=(19, 30)),
    *remembered_times("LS", "setup", "CLK", SH_LD_n=25, P=15, J=15, K_n=15),
    *remembered_times("LS", "hold", "CLK", SH_LD_n=0, P=0, J=0, K_n=0),
    *remembered_times("LS", "recovery", "CLK", CLR_n=25),
    *remembered_pulses("LS", CLK=16, CLR_n=12),
    remembered_clock("LS", "CLK", 30),
    *delays("HC", ("CLK",), "Q", both=(None, 35)),
    *delays("HC", ("CLK",), "QD_n", both=(None, 35)),
    *delays("HC", ("CLR_n",), "Q", fall=(None, 30)),
    *delays("HC", ("CLR_n",), "QD_n", rise=(None, 30)),
)

entry = Entry(
    number="195",
    title="four-bit shift register with J-/K input",
    kind="shift register",
    families=("", "LS", "S", "F", "HC"),
    pins=pins,
    vectors=(("P", tuple("ABCD")), ("Q", tuple(f"Q{letter}" for letter in "ABCD"))),
    behaviour=behaviour,
    figures=figures,
)
