"""Four set-reset latches.

What it does
    /S low sets a latch, /R low clears it; with both high it holds. Two of the four are set by either of two inputs.
    While both are low Q is high; which way the latch falls when both go high together is not defined (here: set).

Pins
    /1R 1, /1S1 2, /1S2 3, 1Q 4, /2R 5, /2S 6, 2Q 7, GND 8, /3R 9, /3S1 10, /3S2 11, 3Q 12, /4R 13, /4S 14, 4Q 15,
    VCC 16.

Function table
    ==========  ==  ====
    /S          /R  Q
    ==========  ==  ====
    H           H   held
    L           H   H
    H           L   L
    L           L   H
    ==========  ==  ====

    Where there are two, /S is L if either of them is.

Timing
    Delays from each input.

Mistakes people make
    Expecting /Q outputs: there are none. Tying the second set input of latches 1 and 3 low instead of high.

Sources
    LS pulse widths: NTE74LS279. Function, pins and other figures from memory (SN74279, SN74LS279A).
"""

from latchwork.chips.figures import LIGHT, delays, pulses
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, variable
from latchwork.parts import Behaviour, Drive, Entry, Latch

pins = dip("/1R:i /1S1:i /1S2:i 1Q:o /2R:i /2S:i 2Q:o GND /3R:i /3S1:i /3S2:i 3Q:o /4R:i /4S:i 4Q:o VCC")

SETS = {1: ("S1_1_n", "S1_2_n"), 2: ("S2_n",), 3: ("S3_1_n", "S3_2_n"), 4: ("S4_n",)}


def set_now(number: int) -> Expression:
    first, *second = (~variable(name) for name in SETS[number])
    return first | second[0] if second else first


def latch(number: int) -> Latch:
    """Takes 1 or 0 while either input is active; set wins."""
    active = set_now(number) | ~variable(f"R{number}_n")
    return Latch(f"held{number}", 1, active, set_now(number))


behaviour = Behaviour(
    latches=tuple(latch(number) for number in SETS),
    drives=tuple(Drive(f"Q{number}", variable(f"held{number}")) for number in SETS),
)


def rows(number: int) -> tuple[tuple[str, ...], str, str]:
    return SETS[number], f"R{number}_n", f"Q{number}"


NTE = "NTE74LS279, recommended operating conditions"

figures = tuple(
    figure
    for sets, reset, output in (rows(number) for number in SETS)
    for figure in (
        *delays("", sets, output, rise=(12, 22), fall=(9, 15)),
        *delays("", (reset,), output, fall=(15, 27)),
        *delays("LS", sets, output, rise=(12, 22), fall=(13, 21)),
        *delays("LS", (reset,), output, fall=(15, 27)),
        *pulses("LS", NTE, LIGHT, **dict.fromkeys((*sets, reset), 20.0)),
    )
)

entry = Entry(
    number="279",
    title="four set-reset latches",
    kind="latch",
    families=("", "LS"),
    pins=pins,
    vectors=(("Q", numbered("Q", 4)), ("R_n", numbered("R", 4, end="_n"))),
    behaviour=behaviour,
    figures=figures,
)
