"""Octal transparent latch with preset, clear, three enables and three-state outputs.

What it does
    While LE is high each output follows its D input; when LE goes low it keeps the last value. /PRE low sets all
    eight at once, /CLR low clears them; preset wins while both are low. The outputs drive while all three /OE are
    low.

Pins
    24 pins in a narrow package: /OE1 1, /OE2 2, 1D to 8D 3 to 10, /CLR 11, GND 12, LE 13 (C in TI's sheet), /PRE 14,
    8Q to 1Q 15 to 22, /OE3 23, VCC 24.

Function table
    ====  ====  ==  =============  ====
    /PRE  /CLR  LE  /OE1 to /OE3   Q
    ====  ====  ==  =============  ====
    L     x     x   all L          H
    H     L     x   all L          L
    H     H     H   all L          D
    H     H     L   all L          held
    x     x     x   one or more H  off
    ====  ====  ==  =============  ====

Timing
    Delays from D, LE, /PRE and /CLR; D must be stable around the falling edge of LE.

Mistakes people make
    Leaving one of the three enables open. Taking it for the 825, a register with nearly the same pins.

Sources
    Function, pins and figures from memory (SN74ALS845 data sheet; 74F845).
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip, numbered
from latchwork.logic import constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Latch, Level, OutputKind

pins = dip("""
    /OE1:i /OE2:i 1D:i 2D:i 3D:i 4D:i 5D:i 6D:i 7D:i 8D:i /CLR:i GND
    LE:i /PRE:i 8Q:o 7Q:o 6Q:o 5Q:o 4Q:o 3Q:o 2Q:o 1Q:o /OE3:i VCC
""")

ENABLES = ("OE1_n", "OE2_n", "OE3_n")

levels = (Level(~variable("PRE_n"), constant(0xFF, 8)), Level(~variable("CLR_n"), constant(0, 8)))
shown = ~(variable("OE1_n") | variable("OE2_n") | variable("OE3_n"))

behaviour = Behaviour(
    latches=(Latch("held", 8, variable("LE"), variable("D", 8), levels),),
    drives=(Drive("Q", variable("held", 8), shown, OutputKind.THREE_STATE),),
)

figures = (
    *delays("ALS", ("D",), "Q", both=(None, 13)),
    *delays("ALS", ("LE",), "Q", both=(None, 21)),
    *delays("ALS", ("PRE_n",), "Q", rise=(None, 22)),
    *delays("ALS", ("CLR_n",), "Q", fall=(None, 23)),
    *delays("ALS", ENABLES, "Q", both=(None, 18), quantity="enable"),
    *delays("ALS", ENABLES, "Q", both=(None, 16), quantity="disable"),
    *remembered_times("ALS", "setup", "LE", D=10),
    *remembered_times("ALS", "hold", "LE", D=5),
    *remembered_pulses("ALS", LE=20, PRE_n=35, CLR_n=35),
)

entry = Entry(
    number="845",
    title="octal transparent latch with preset, clear and three enables",
    kind="latch",
    families=("ALS", "F"),
    pins=pins,
    vectors=(("D", numbered("D", 8)), ("Q", numbered("Q", 8))),
    behaviour=behaviour,
    figures=figures,
)
