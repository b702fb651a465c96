"""Octal D register with clear.

What it does
    Takes the eight D inputs at the rising edge of CLK; /CLR low clears all eight at once. Outputs always drive.

Pins
    /CLR 1, CLK 11, D and Q pairs along both sides as in the 374, GND 10, VCC 20.

Function table
    ====  ====  ====
    /CLR  CLK   Q
    ====  ====  ====
    L     x     L
    H     rise  D
    H     L, H  held
    ====  ====  ====

Timing
    One delay from the clock, one from /CLR; /CLR must be high some time before the next rising edge (recovery).

Mistakes people make
    Putting it on a bus as output: it has no three-state outputs, add a 245 or 244. Expecting pin 1 to be the clock
    enable, which it is in the 377.

Sources
    Function: NXP 74HC273 Rev.4 2013. LS figures: Motorola SN54/74LS273 p.5-2 and p.5-279. Typical delay of HC:
    National MM74HC273. Pins and other figures from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays, remembered_times, stated
from latchwork.chips.pins import dip, numbered
from latchwork.chips.registers.clearable import clearable
from latchwork.parts import Entry

pins = dip("""
    /CLR:i 1Q:o 1D:i 2D:i 2Q:o 3Q:o 3D:i 4D:i 4Q:o GND
    CLK:i 5Q:o 5D:i 6D:i 6Q:o 7Q:o 7D:i 8D:i 8Q:o VCC
""")

behaviour = clearable(8)

MOTOROLA = "Motorola SN54/74LS273 p.5-2 and p.5-279"
LIGHT = "5 V, 25 degC, 15 pF"

figures = (
    *delays("LS", ("CLK",), "Q", rise=(17, None), fall=(18, 27), source=MOTOROLA, conditions=LIGHT),
    *delays("LS", ("CLK",), "Q", rise=(17, 27)),
    *delays("LS", ("CLR_n",), "Q", fall=(18, 27), source=MOTOROLA, conditions=LIGHT),
    stated("LS", "setup", "D", "CLK", minimum=20, source=MOTOROLA, conditions=LIGHT),
    stated("LS", "hold", "D", "CLK", minimum=5, source=MOTOROLA, conditions=LIGHT),
    stated("LS", "recovery", "CLR_n", "CLK", minimum=25, source=MOTOROLA, conditions=LIGHT),
    stated("LS", "pulse width", "CLK", minimum=20, source=MOTOROLA, conditions=LIGHT),
    stated("LS", "pulse width", "CLR_n", minimum=20, source=MOTOROLA, conditions=LIGHT),
    stated("LS", "maximum clock", "CLK", minimum=30, typical=40, unit="MHz", source=MOTOROLA, conditions=LIGHT),
    *delays("HC", ("CLK",), "Q", both=(15, 30)),
    *delays("HC", ("CLK",), "Q", both=(18, None), source="National MM74HC273 Jan 1988 TL/F/5331"),
    *delays("HC", ("CLR_n",), "Q", fall=(None, 30)),
    *remembered_times("HC", "setup", "CLK", D=12),
    *remembered_times("HC", "hold", "CLK", D=3),
    *delays("HCT", ("CLK",), "Q", both=(16, 30)),
    *delays("HCT", ("CLR_n",), "Q", fall=(None, 34)),
    *remembered_times("HCT", "setup", "CLK", D=12),
    *remembered_times("HCT", "hold", "CLK", D=3),
)

entry = Entry(
    number="273",
    title="octal D register with clear",
    kind="register",
    families=("", "LS", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("D", numbered("D", 8)), ("Q", numbered("Q", 8))),
    behaviour=behaviour,
    figures=figures,
)
