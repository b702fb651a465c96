"""Eight-bit binary counter with an input register, on one three-state bus.

What it does
    The register takes the bus at the rising edge of RCK while /RCKEN is low. /CLOAD low copies the register to the
    counter at once; /CCLR low clears the counter at once and goes first. The counter steps at the rising edge of CCK
    while CCKEN is high or /CCKEN is low. It is shown on the bus while G is high and /G is low.

Pins
    593: A to H, which are also QA to QH, 1 to 8 (named Q_A to Q_H here), /CLOAD 9, GND 10, /RCO 11, /CCLR 12, CCK 13,
    /CCKEN 14, CCKEN 15, RCK 16, /RCKEN 17, /G 18, G 19, VCC 20. The vector Q is all eight, A lowest. CCKEN and /CCKEN
    are named CCKEN and CCKEN_n.

Function table
    =====  ======  ==================  ====  ==========================
    /CCLR  /CLOAD  counting            CCK   counter
    =====  ======  ==================  ====  ==========================
    L      x       x                   x     0
    H      L       x                   x     register
    H      H       CCKEN H, /CCKEN x   rise  count + 1
    H      H       CCKEN x, /CCKEN L   rise  count + 1
    H      H       CCKEN L, /CCKEN H   rise  held
    =====  ======  ==================  ====  ==========================
    /RCO is low while the counter is 255.

Timing
    Bus from CCK and the levels; enabled and disabled by G and /G.

Mistakes people make
    Expecting both count enables to be needed: one suffices, and to carry from /RCO into /CCKEN, CCKEN must be low.
    Raising RCK while the counter shows itself on the bus: the register takes the count.

Sources
    ST M54/M74HC593 October 1993, description and truth table: 20 pins, clocks and their edges, register enable, clear
    without load, load without clear, count enables, /RCO (its formula there is the inverse of all eight). TI 74ACT11593
    SCAS203, function tables: the same count enables; the bus is driven while both enables are active (the ST table
    has it for either: sources disagree, TI is followed here); /RCO low at FF; its 24 pins stand elsewhere. From
    memory (SN74LS593 data sheet SDLS004), not compared with a sheet: the numbers of the pins, which sheets show as
    drawings; that clear goes first, as both tables leave out both low; all figures.
"""

from latchwork.chips.figures import delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

LETTERS = "ABCDEFGH"

pins = dip(
    " ".join(f"{letter}/Q{letter}=Q_{letter}:b" for letter in LETTERS)
    + " /CLOAD:i GND /RCO:o /CCLR:i CCK:i /CCKEN:i CCKEN:i RCK:i /RCKEN:i /G:i G:i VCC"
)

count, stored = variable("count", 8), variable("stored", 8)
counting = variable("CCKEN") | ~variable("CCKEN_n")

behaviour = Behaviour(
    registers=(
        Register("stored", 8, (Update(variable("RCK"), mux(variable("RCKEN_n"), stored, variable("Q", 8))),)),
        Register(
            "count",
            8,
            (Update(variable("CCK"), mux(counting, count + 1, count)),),
            (Level(~variable("CCLR_n"), constant(0, 8)), Level(~variable("CLOAD_n"), stored)),
        ),
    ),
    drives=(
        Drive("Q", count, variable("G") & ~variable("G_n"), OutputKind.THREE_STATE),
        Drive("RCO_n", ~count.equals(255)),
    ),
)

figures = (
    *delays("LS", ("CCK",), "Q", both=(24, 42)),
    *delays("LS", ("CLOAD_n",), "Q", both=(38, 57)),
    *delays("LS", ("CCLR_n",), "Q", fall=(30, 45)),
    *delays("LS", ("RCK",), "Q", both=(40, 60)),
    *delays("LS", ("G", "G_n"), "Q", both=(30, 45), quantity="enable"),
    *delays("LS", ("G", "G_n"), "Q", both=(30, 45), quantity="disable"),
    *delays("LS", ("CCK",), "RCO_n", both=(20, 30)),
    *delays("LS", ("CLOAD_n",), "RCO_n", both=(38, 57)),
    *delays("LS", ("CCLR_n",), "RCO_n", rise=(30, 45)),
    *remembered_times("LS", "setup", "RCK", Q=20, RCKEN_n=20),
    *remembered_times("LS", "setup", "CCK", CCKEN=20, CCKEN_n=20),
    *remembered_pulses("LS", CCK=25, RCK=20, CLOAD_n=40, CCLR_n=20),
)

entry = Entry(
    number="593",
    title="eight-bit binary counter with input register, bus pins",
    kind="counter",
    families=("LS", "HC"),
    pins=pins,
    vectors=(("Q", tuple(f"Q_{letter}" for letter in LETTERS)),),
    behaviour=behaviour,
    figures=figures,
)
