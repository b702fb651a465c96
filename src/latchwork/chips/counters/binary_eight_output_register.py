"""Eight-bit binary counter with an output register and three-state outputs.

What it does
    The counter steps at the rising edge of CCLK while /CCKEN is low; /CCLR low clears it at once. The register takes
    the count at the rising edge of RCLK and shows it on Q while /OE is low.

Pins
    590: QB to QH 1 to 7, GND 8, /RCO 9, /CCLR 10, CCLK 11, /CCKEN 12, RCLK 13, /OE 14, QA 15, VCC 16. The vector Q is
    QA to QH, QA lowest.

Function table
    =====  ======  ====  ====  ==========  ====================
    /CCLR  /CCKEN  CCLK  RCLK  counter     register
    =====  ======  ====  ====  ==========  ====================
    L      x       x     x     0           held
    H      L       rise  x     count + 1   held
    H      H       rise  x     held        held
    H      x       x     rise  held        counter
    H      L       rise  rise  count + 1   count before
    =====  ======  ====  ====  ==========  ====================
    /RCO is low while the counter is 255, whatever /CCKEN is.

Timing
    Q from RCLK, /RCO from CCLK.

Mistakes people make
    Joining CCLK and RCLK and forgetting that Q is then one clock behind. Chaining more than two by /CCKEN: /RCO does
    not look at /CCKEN, so the third counts too often; use /RCO as the clock of the next instead.

Sources
    SN74LS590 data sheet SDLS003, SN74HC590A SCLS039: function, pins and figures from memory.
"""

from latchwork.chips.figures import bus_driver_currents, delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip
from latchwork.logic import constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

pins = dip("""
    QB:o QC:o QD:o QE:o QF:o QG:o QH:o GND
    /RCO:o /CCLR:i CCLK:i /CCKEN:i RCLK:i /OE:i QA:o VCC
""")

count, shown = variable("count", 8), variable("shown", 8)
counted = mux(variable("CCKEN_n"), count, count + 1)

behaviour = Behaviour(
    registers=(
        Register("count", 8, (Update(variable("CCLK"), counted),), (Level(~variable("CCLR_n"), constant(0, 8)),)),
        Register("shown", 8, (Update(variable("RCLK"), count),)),
    ),
    drives=(
        Drive("Q", shown, ~variable("OE_n"), OutputKind.THREE_STATE),
        Drive("RCO_n", ~count.equals(255)),
    ),
)

figures = (
    *delays("LS", ("RCLK",), "Q", rise=(12, 18), fall=(22, 33)),
    *delays("LS", ("OE_n",), "Q", rise=(25, 38), fall=(30, 45), quantity="enable"),
    *delays("LS", ("OE_n",), "Q", both=(20, 30), quantity="disable"),
    *delays("LS", ("CCLK",), "RCO_n", rise=(14, 22), fall=(20, 30)),
    *delays("LS", ("CCLR_n",), "RCO_n", rise=(30, 45)),
    *remembered_times("LS", "setup", "CCLK", CCKEN_n=20),
    *remembered_times("LS", "setup", "RCLK", CCLK=40),
    *remembered_pulses("LS", CCLK=25, RCLK=20, CCLR_n=20),
    *delays("HC", ("RCLK",), "Q", both=(None, 28)),
    *delays("HC", ("OE_n",), "Q", both=(None, 25), quantity="enable"),
    *delays("HC", ("OE_n",), "Q", both=(None, 25), quantity="disable"),
    *delays("HC", ("CCLK",), "RCO_n", both=(None, 30)),
    *delays("HC", ("CCLR_n",), "RCO_n", rise=(None, 26)),
    *(row for row in bus_driver_currents("Q") if row.family == "HC"),
)

entry = Entry(
    number="590",
    title="eight-bit binary counter with output register",
    kind="counter",
    families=("LS", "HC"),
    pins=pins,
    vectors=(("Q", tuple(f"Q{letter}" for letter in "ABCDEFGH")),),
    behaviour=behaviour,
    figures=figures,
)
