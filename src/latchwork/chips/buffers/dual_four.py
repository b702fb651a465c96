"""Octal three-state buffer in two halves.

What it does
    Two groups of four buffers; /1G low lets the first drive, /2G low the second. A group that is not enabled is off.

Pins
    /1G 1, then 1A and 2Y pins in turn down the left side (1A1 2, 2Y4 3, ... 2Y1 9); 2A and 1Y up the right side
    (2A1 11, 1Y4 12, ... 1Y1 18); /2G 19. GND 10, VCC 20. Both enables are active low. The vectors A and Y take both
    halves as one byte, the first half in the low bits.

Function table
    ==  =  ===
    /G  A  Y
    ==  =  ===
    L   L  L
    L   H  H
    H   x  off
    ==  =  ===

Timing
    Delay from A; enable and disable times from /G.

Mistakes people make
    Taking 2Y4 for the output of 1A1 because it sits beside it: the outputs of a half are on the other side. Leaving
    the second enable open. Taking the 241, whose second enable is active high.

Sources
    Usual LS delay: Fairchild DM74LS244 p.1; output currents: Fairchild DM74LS245. Function, pins and other delays from
    memory (SN74LS244 data sheet SDLS144; Philips 74HC/HCT244).
"""

from latchwork.chips.figures import bus_driver_currents, delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind, Unit

pins = dip("""
    /1G:i 1A1:i 2Y4:o 1A2:i 2Y3:o 1A3:i 2Y2:o 1A4:i 2Y1:o GND
    2A1:i 1Y4:o 2A2:i 1Y3:o 2A3:i 1Y2:o 2A4:i 1Y1:o /2G:i VCC
""")

HALVES = (1, 2)

behaviour = Behaviour(
    drives=tuple(
        Drive(f"Y{half}", variable(f"A{half}", 4), ~variable(f"G{half}_n"), OutputKind.THREE_STATE) for half in HALVES
    )
)

units = tuple(Unit(str(half), (("A", f"A{half}"), ("G_n", f"G{half}_n"), ("Y", f"Y{half}"))) for half in HALVES)


def half_and_whole(letter: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The vectors of one letter: each half, and both together."""
    first, second = numbered(f"{letter}1_", 4), numbered(f"{letter}2_", 4)
    return (f"{letter}1", first), (f"{letter}2", second), (letter, first + second)


FAIRCHILD = "Fairchild DM74LS244 March 2000 p.1"

figures = (
    *delays("LS", "A", "Y", both=(12, None), source=FAIRCHILD, conditions="5 V, 25 degC"),
    *delays("LS", "A", "Y", both=(None, 18)),
    *delays("LS", ("G_n",), "Y", rise=(None, 23), fall=(None, 30), quantity="enable"),
    *delays("LS", ("G_n",), "Y", both=(None, 25), quantity="disable"),
    *delays("HC", "A", "Y", both=(11, 22)),
    *delays("HC", ("G_n",), "Y", both=(None, 30), quantity="enable"),
    *delays("HC", ("G_n",), "Y", both=(None, 30), quantity="disable"),
    *delays("HCT", "A", "Y", both=(13, 22)),
    *delays("HCT", ("G_n",), "Y", both=(None, 30), quantity="enable"),
    *delays("HCT", ("G_n",), "Y", both=(None, 25), quantity="disable"),
    *bus_driver_currents("Y"),
)

entry = Entry(
    number="244",
    title="octal three-state buffer in two halves",
    kind="buffer",
    families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(*half_and_whole("A"), *half_and_whole("Y"), ("G_n", ("G1_n", "G2_n"))),
    behaviour=behaviour,
    units=units,
    figures=figures,
)
