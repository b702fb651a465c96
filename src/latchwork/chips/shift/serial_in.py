"""Eight-bit shift register with a storage register and three-state outputs.

What it does
    Each rising edge of SRCLK shifts by one place from QA towards QH and takes SER into the first place; /SRCLR low
    clears the shift stages. Each rising edge of RCLK copies the shift stages to the storage register, which the
    outputs show while /OE is low. QH' shows the last shift stage, for the next package.

Pins
    QB to QH 1 to 7, GND 8, QH' 9 (here QH_serial), /SRCLR 10, SRCLK 11, RCLK 12, /OE 13, SER 14, QA 15, VCC 16.
    The vector Q is QA to QH, QA in the lowest bit.

Function table
    ======  =====  ====  =======================  =====================
    /SRCLR  SRCLK  RCLK  shift stages             storage
    ======  =====  ====  =======================  =====================
    L       x      x     all L                    held
    H       rise   x     shifted, SER into first  held
    x       x      rise  held                     shift stages
    H       rise   rise  shifted, SER into first  stages before shifting
    L       x      rise  all L                    all L
    ======  =====  ====  =======================  =====================

    The outputs are off while /OE is H; QH' always drives.

Timing
    Delay to QH' from SRCLK and /SRCLR, to the outputs from RCLK and /OE.

Mistakes people make
    Joining SRCLK and RCLK and forgetting that the storage is then one clock behind. Leaving /SRCLR open. Expecting
    the first bit shifted in at QA: it ends at QH.

Sources
    Function: Nexperia 74HC595 table 3; Philips 74HC595 2003. Pins: ON MC74HC595A. HC figures: Nexperia 74HC595
    table 7; power: Philips 2003. Others from memory.
"""

from latchwork.chips.figures import (
    delays,
    remembered_pulses,
    remembered_times,
    stated,
)
from latchwork.chips.pins import dip
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, OutputKind, Register, Update

pins = dip("""
    QB:o QC:o QD:o QE:o QF:o QG:o QH:o GND
    QH'=QH_serial:o /SRCLR:i SRCLK:i RCLK:i /OE:i SER:i QA:o VCC
""")

stages, stored = variable("stages", 8), variable("stored", 8)
shift = Update(variable("SRCLK"), concat(variable("SER"), stages[0:7]))
clear = Level(~variable("SRCLR_n"), constant(0, 8))

behaviour = Behaviour(
    registers=(
        Register("stages", 8, (shift,), (clear,)),
        Register("stored", 8, (Update(variable("RCLK"), stages),)),
    ),
    drives=(
        Drive("Q", stored, ~variable("OE_n"), OutputKind.THREE_STATE),
        Drive("QH_serial", stages[7]),
    ),
)

NEXPERIA, PHILIPS = "Nexperia 74HC595 table 7", "Philips 74HC595 2003 Jun 25"
USUAL, WARM = "4.5 V, 25 degC, 50 pF", "4.5 V, -40 to 85 degC, 50 pF"

figures = (
    *delays("HC", ("SRCLK",), "QH_serial", both=(19, 32), source=NEXPERIA, conditions=USUAL),
    *delays("HC", ("SRCLK",), "QH_serial", both=(None, 40), source=NEXPERIA, conditions=WARM),
    *delays("HC", ("SRCLR_n",), "QH_serial", fall=(17, 35), source=NEXPERIA, conditions=USUAL),
    *delays("HC", ("RCLK",), "Q", both=(20, 35), source=NEXPERIA, conditions=USUAL),
    *delays("HC", ("RCLK",), "Q", both=(None, 44), source=NEXPERIA, conditions=WARM),
    *delays("HC", ("OE_n",), "Q", both=(None, 30), quantity="enable"),
    *delays("HC", ("OE_n",), "Q", both=(None, 30), quantity="disable"),
    *remembered_times("HC", "setup", "SRCLK", SER=10),
    *remembered_times("HC", "setup", "RCLK", SRCLK=15),
    *remembered_times("HC", "hold", "SRCLK", SER=3),
    *remembered_pulses("HC", SRCLK=15, RCLK=15, SRCLR_n=15),
    stated("HC", "maximum clock", "SRCLK", typical=100, unit="MHz", source=PHILIPS, conditions="4.5 V"),
    stated("HC", "power capacitance", typical=115, unit="pF", source=PHILIPS),
    *delays("HCT", ("SRCLK",), "QH_serial", both=(25, None), source=PHILIPS, conditions="4.5 V"),
    *delays("HCT", ("SRCLK",), "QH_serial", both=(25, 42)),
    *delays("HCT", ("SRCLR_n",), "QH_serial", fall=(23, 40)),
    *delays("HCT", ("RCLK",), "Q", both=(24, None), source=PHILIPS, conditions="4.5 V"),
    *delays("HCT", ("RCLK",), "Q", both=(24, 40)),
    *delays("HCT", ("OE_n",), "Q", both=(None, 35), quantity="enable"),
    *delays("HCT", ("OE_n",), "Q", both=(None, 30), quantity="disable"),
    *remembered_times("HCT", "setup", "SRCLK", SER=16),
    *remembered_times("HCT", "setup", "RCLK", SRCLK=16),
    stated("HCT", "maximum clock", "SRCLK", typical=57, unit="MHz", source=PHILIPS, conditions="4.5 V"),
    stated("HCT", "power capacitance", typical=130, unit="pF", source=PHILIPS),
    *delays("LS", ("SRCLK",), "QH_serial", rise=(12, 18), fall=(17, 25)),
    *delays("LS", ("SRCLR_n",), "QH_serial", fall=(24, 35)),
    *delays("LS", ("RCLK",), "Q", rise=(12, 18), fall=(24, 35)),
    *delays("LS", ("OE_n",), "Q", rise=(20, 30), fall=(25, 38), quantity="enable"),
    *delays("LS", ("OE_n",), "Q", both=(25, 38), quantity="disable"),
    *remembered_times("LS", "setup", "SRCLK", SER=20),
    *remembered_times("LS", "setup", "RCLK", SRCLK=40),
)

entry = Entry(
    number="595",
    title="eight-bit shift register with storage and three-state outputs",
    kind="shift register",
    families=("LS", "HC", "HCT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("Q", tuple(f"Q{letter}" for letter in "ABCDEFGH")),),
    behaviour=behaviour,
    figures=figures,
)
