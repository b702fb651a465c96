"""Dual J-/K flip-flop with preset and clear, triggered by the rising edge.

What it does
    At the rising edge of CLK J high sets, /K low clears, J low with /K high holds, J high with /K low turns over.
    With J and /K joined it is a D flip-flop. /PRE and /CLR act at once, as in the 74.

Pins
    /1CLR 1, 1J 2, /1K 3, 1CLK 4, /1PRE 5, 1Q 6, /1Q 7, GND 8, /2Q 9, 2Q 10, /2PRE 11, 2CLK 12, /2K 13, 2J 14,
    /2CLR 15, VCC 16.

Function table
    ====  ====  ====  =  ==  ===========
    /PRE  /CLR  CLK   J  /K  Q
    ====  ====  ====  =  ==  ===========
    L     H     x     x  x   H
    H     L     x     x  x   L
    L     L     x     x  x   H, and /Q H
    H     H     rise  L  L   L
    H     H     rise  H  L   turned over
    H     H     rise  L  H   held
    H     H     rise  H  H   H
    H     H     L, H  x  x   held
    ====  ====  ====  =  ==  ===========

Timing
    As the 74, with a longer setup of J and /K.

Mistakes people make
    Taking /K for K: both inputs high do not turn it over but set it.

Sources
    LS delays: Fairchild DM74LS109A p.3; ALS figures: TI SN74ALS109A SDAS198B p.3; usual HC and HCT figures: Philips
    74HC/HCT109 p.2. Function, pins and other figures from memory (SN74109, SN74LS109A).
"""

from collections.abc import Iterable

from latchwork.chips.figures import LIGHT, clock_limit, delays, remembered_pulses, remembered_times, stated
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.chips.registers.jk import NUMBERS, levels, next_state, outputs, units
from latchwork.logic import variable
from latchwork.parts import Behaviour, Entry, Figure, Register, Update

pins = dip("""
    /1CLR:i 1J:i /1K:i 1CLK:i /1PRE:i 1Q:o /1Q:o GND
    /2Q:o 2Q:o /2PRE:i 2CLK:i /2K:i 2J:i /2CLR:i VCC
""")


def flip_flop(number: int) -> Register:
    data = next_state(variable(f"held{number}"), variable(f"J{number}"), variable(f"K{number}_n"))
    return Register(f"held{number}", 1, (Update(variable(f"CLK{number}"), data),), levels(number, preset=True))


behaviour = Behaviour(
    registers=tuple(flip_flop(number) for number in NUMBERS),
    drives=tuple(drive for n in NUMBERS for drive in outputs(n, variable(f"held{n}"), preset=True)),
)

FAIRCHILD = "Fairchild DM74LS109A p.3"
TEXAS, TEXAS_LOAD = "TI SN74ALS109A SDAS198B p.3", "4.5 to 5.5 V, 0 to 70 degC, 50 pF"
PHILIPS = "Philips 74HC/HCT109 25 November 1997 p.2"


def als(starts: Iterable[str], end: str, rise: float | None = None, fall: float | None = None) -> tuple[Figure, ...]:
    """The longest delays in the sheet of the ALS109A."""
    rising, falling = (None if most is None else (None, most) for most in (rise, fall))
    return delays("ALS", starts, end, rise=rising, fall=falling, source=TEXAS, conditions=TEXAS_LOAD)


def quick(family: str, clocked: float, preset: float, cleared: float) -> tuple[Figure, ...]:
    """Usual delays, from the quick reference data."""
    return tuple(
        row
        for start, usual in (("CLK", clocked), ("PRE_n", preset), ("CLR_n", cleared))
        for end in ("Q", "Q_n")
        for row in delays(family, (start,), end, both=(usual, None), source=PHILIPS, conditions=LIGHT)
    )


figures = (
    *delays("", ("CLK",), "Q", rise=(10, 16), fall=(18, 28)),
    *delays("", ("CLK",), "Q_n", rise=(10, 16), fall=(18, 28)),
    *delays("", ("PRE_n", "CLR_n"), "Q", rise=(10, 15), fall=(23, 35)),
    *delays("", ("PRE_n", "CLR_n"), "Q_n", rise=(10, 15), fall=(23, 35)),
    *delays("LS", ("CLK",), "Q", rise=(None, 25), fall=(None, 30), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLK",), "Q_n", rise=(None, 25), fall=(None, 30), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLR_n",), "Q_n", rise=(None, 25), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("CLR_n",), "Q", fall=(None, 30), source=FAIRCHILD, conditions=LIGHT),
    *delays("LS", ("PRE_n",), "Q", rise=(13, 25)),
    *delays("LS", ("PRE_n",), "Q_n", fall=(25, 40)),
    *remembered_times("LS", "setup", "CLK", J=35, K_n=35),
    *remembered_times("LS", "hold", "CLK", J=5, K_n=5),
    *remembered_pulses("LS", CLK=25, PRE_n=25, CLR_n=25),
    clock_limit("LS", "CLK", FAIRCHILD, least=25),
    stated("LS", "supply current", typical=4, maximum=8, unit="mA", source=FAIRCHILD),
    *(row for end in ("Q", "Q_n") for row in als(("CLK",), end, rise=16, fall=18)),
    *als(("PRE_n",), "Q", rise=13),
    *als(("PRE_n",), "Q_n", fall=15),
    *als(("CLR_n",), "Q", fall=15),
    *als(("CLR_n",), "Q_n", rise=13),
    clock_limit("ALS", "CLK", TEXAS, least=34, conditions=TEXAS_LOAD),
    *quick("HC", clocked=15, preset=12, cleared=12),
    *quick("HCT", clocked=17, preset=14, cleared=15),
    clock_limit("HC", "CLK", PHILIPS, usual=75),
    clock_limit("HCT", "CLK", PHILIPS, usual=61),
    stated("HC", "power capacitance", typical=20, unit="pF", conditions="each flip-flop", source=PHILIPS),
    stated("HCT", "power capacitance", typical=22, unit="pF", conditions="each flip-flop", source=PHILIPS),
    *delays("HC", ("CLK",), "Q", both=(None, 35)),
    *delays("HC", ("CLK",), "Q_n", both=(None, 35)),
    *delays("HC", ("PRE_n", "CLR_n"), "Q", both=(None, 46)),
    *delays("HC", ("PRE_n", "CLR_n"), "Q_n", both=(None, 46)),
    *remembered_times("HC", "setup", "CLK", J=20, K_n=20),
    *remembered_times("HC", "hold", "CLK", J=0, K_n=0),
)

entry = Entry(
    number="109",
    title="dual J-/K flip-flop with preset and clear, rising edge",
    kind="register",
    families=("", "LS", "ALS", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=vectors_of(units(preset=True, low_k=True)),
    behaviour=behaviour,
    units=units(preset=True, low_k=True),
    figures=figures,
)
