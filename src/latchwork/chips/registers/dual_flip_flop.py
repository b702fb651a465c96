"""Dual D flip-flop with preset and clear.

What it does
    Two independent flip-flops. Each takes D at the rising edge of its CLK; /PRE low sets it and /CLR low clears it
    at once, whatever the clock does. While both are low both outputs are high; which way the flip-flop falls when
    they go high together is not defined (here: cleared).

Pins
    /1CLR 1, 1D 2, 1CLK 3, /1PRE 4, 1Q 5, /1Q 6; the other one mirrored: /2CLR 13 to /2Q 8. GND 7, VCC 14.

Function table
    ====  ====  ====  =  ====  ====
    /PRE  /CLR  CLK   D  Q     /Q
    ====  ====  ====  =  ====  ====
    L     H     x     x  H     L
    H     L     x     x  L     H
    L     L     x     x  H     H
    H     H     rise  H  H     L
    H     H     rise  L  L     H
    H     H     L, H  x  held  held
    ====  ====  ====  =  ====  ====

Timing
    In LS the outputs fall later than they rise. Setup before and hold after the rising edge; the TTL and LS parts
    need D held for 5 ns after it.

Mistakes people make
    Leaving /PRE and /CLR open: in CMOS the flip-flop then sets or clears itself. Using it straight behind a push
    button, whose bounces it counts.

Sources
    Function and pins from memory (SN74LS74A data sheet SDLS119). LS delays: Fairchild DM74LS74A p.3; others from
    memory.
"""

from latchwork.chips.figures import (
    delays,
    remembered_clock,
    remembered_pulses,
    remembered_times,
    stated,
)
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.logic import constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Level, Register, Unit, Update

pins = dip("/1CLR:i 1D:i 1CLK:i /1PRE:i 1Q:o /1Q:o GND /2Q:o 2Q:o /2PRE:i 2CLK:i 2D:i /2CLR:i VCC")

NUMBERS = (1, 2)


def flip_flop(number: int) -> Register:
    """One of the two; clear is named first, so that it wins where both levels end together."""
    clear, preset = ~variable(f"CLR{number}_n"), ~variable(f"PRE{number}_n")
    return Register(
        f"held{number}",
        1,
        (Update(variable(f"CLK{number}"), variable(f"D{number}")),),
        (Level(clear, constant(0)), Level(preset, constant(1))),
    )


def outputs(number: int) -> tuple[Drive, Drive]:
    """Preset reaches Q even while clear holds the state at 0, hence two high outputs while both are low."""
    held, preset = variable(f"held{number}"), ~variable(f"PRE{number}_n")
    return Drive(f"Q{number}", held | preset), Drive(f"Q{number}_n", ~held)


behaviour = Behaviour(
    registers=tuple(flip_flop(number) for number in NUMBERS),
    drives=tuple(drive for number in NUMBERS for drive in outputs(number)),
)

units = tuple(
    Unit(
        str(number),
        (
            ("D", f"D{number}"),
            ("CLK", f"CLK{number}"),
            ("PRE_n", f"PRE{number}_n"),
            ("CLR_n", f"CLR{number}_n"),
            ("Q", f"Q{number}"),
            ("Q_n", f"Q{number}_n"),
        ),
    )
    for number in NUMBERS
)

FAIRCHILD = "Fairchild DM74LS74A p.3"
LIGHT, HEAVY = "5 V, 25 degC, 15 pF, 2 kohm", "5 V, 25 degC, 50 pF, 2 kohm"

figures = (
    *delays("LS", ("CLK",), "Q", rise=(None, 25), fall=(None, 30), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLK",), "Q_n", rise=(None, 25), fall=(None, 30), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLK",), "Q", rise=(None, 35), fall=(None, 35), source=FAIRCHILD, conditions=HEAVY),
    *delays("LS", ("CLK",), "Q_n", rise=(None, 35), fall=(None, 35), source=FAIRCHILD, conditions=HEAVY),
    *delays("LS", ("PRE_n",), "Q", rise=(None, 25), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("PRE_n",), "Q_n", fall=(None, 30), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLR_n",), "Q", fall=(25, 40)),
    *delays("LS", ("CLR_n",), "Q_n", rise=(13, 25)),
    stated("LS", "maximum clock", "CLK", minimum=25, unit="MHz", source=FAIRCHILD, conditions=LIGHT),
    stated("LS", "maximum clock", "CLK", minimum=20, unit="MHz", source=FAIRCHILD, conditions=HEAVY),
    stated("LS", "supply current", typical=4, maximum=8, unit="mA", source=FAIRCHILD),
    *delays("LS", ("CLK",), "Q", rise=(13, 25), fall=(25, 40)),
    *delays("LS", ("CLK",), "Q_n", rise=(13, 25), fall=(25, 40)),
    *remembered_times("LS", "setup", "CLK", D=20),
    *remembered_times("LS", "hold", "CLK", D=5),
    *remembered_pulses("LS", CLK=25, PRE_n=25, CLR_n=25),
    *delays("", ("CLK",), "Q", rise=(14, 25), fall=(20, 40)),
    *delays("", ("CLK",), "Q_n", rise=(14, 25), fall=(20, 40)),
    *delays("", ("PRE_n",), "Q", rise=(None, 25)),
    *delays("", ("PRE_n",), "Q_n", fall=(None, 40)),
    *delays("", ("CLR_n",), "Q", fall=(None, 40)),
    *delays("", ("CLR_n",), "Q_n", rise=(None, 25)),
    *remembered_times("", "setup", "CLK", D=20),
    *remembered_times("", "hold", "CLK", D=5),
    remembered_clock("", "CLK", 15),
    *delays("HC", ("CLK",), "Q", both=(None, 35)),
    *delays("HC", ("CLK",), "Q_n", both=(None, 35)),
    *delays("HC", ("PRE_n", "CLR_n"), "Q", both=(None, 40)),
    *delays("HC", ("PRE_n", "CLR_n"), "Q_n", both=(None, 40)),
    *remembered_times("HC", "setup", "CLK", D=12),
    *remembered_times("HC", "hold", "CLK", D=3),
    *remembered_pulses("HC", CLK=16, PRE_n=16, CLR_n=16),
    *delays("HCT", ("CLK",), "Q", both=(18, 35)),
    *delays("HCT", ("CLK",), "Q_n", both=(18, 35)),
    *delays("HCT", ("PRE_n", "CLR_n"), "Q", both=(None, 40)),
    *delays("HCT", ("PRE_n", "CLR_n"), "Q_n", both=(None, 40)),
    *remembered_times("HCT", "setup", "CLK", D=12),
    *remembered_times("HCT", "hold", "CLK", D=3),
    *remembered_pulses("HCT", CLK=18, PRE_n=16, CLR_n=16),
    *delays("AC", ("CLK",), "Q", both=(None, 10.5)),
    *delays("AC", ("CLK",), "Q_n", both=(None, 10.5)),
)

entry = Entry(
    number="74",
    title="dual D flip-flop with preset and clear",
    kind="register",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
