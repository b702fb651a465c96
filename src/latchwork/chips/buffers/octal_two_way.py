"""Octal two-way bus buffer.

What it does
    While /G is low it joins two buses: DIR high shows A on B, DIR low shows B on A. While /G is high both sides are
    off.

Pins
    DIR 1, A1 to A8 2 to 9, GND 10, B8 to B1 11 to 18 (straight across from the A pins), /G 19, VCC 20.

Function table
    ==  ===  ====  ====
    /G  DIR  A     B
    ==  ===  ====  ====
    L   L    B     read
    L   H    read  A
    H   x    off   off
    ==  ===  ====  ====

Timing
    Delay from one side to the other; enable and disable times from /G, which hold for DIR too.

Mistakes people make
    Turning DIR while /G is low: for some nanoseconds the old side still drives. Leaving the pins of the side that
    is read open when nothing drives it.

Sources
    Function and pins: Renesas HD74HCT245. HC and HCT figures: Philips 74HC245/74HCT245 Rev.03 tables 9 and 10;
    currents: Fairchild DM74LS245 p.2, Motorola MC74F245 p.4-116. LS delays from memory.
"""

from latchwork.chips.figures import bus_driver_currents, delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind

pins = dip("""
    DIR:i A1:b A2:b A3:b A4:b A5:b A6:b A7:b A8:b GND
    B8:b B7:b B6:b B5:b B4:b B3:b B2:b B1:b /G:i VCC
""")

joined, a_to_b = ~variable("G_n"), variable("DIR")

behaviour = Behaviour(
    drives=(
        Drive("A", variable("B", 8), joined & ~a_to_b, OutputKind.THREE_STATE),
        Drive("B", variable("A", 8), joined & a_to_b, OutputKind.THREE_STATE),
    )
)

PHILIPS = "Philips 74HC245/74HCT245 Rev.03 tables 9, 10"
USUAL, LIGHT = "4.5 V, 25 degC, 50 pF", "5 V, 25 degC, 15 pF"


def one_way(start: str, end: str) -> tuple[Figure, ...]:
    """The rows for one direction; both have the same."""
    return (
        *delays("LS", start, end, both=(8, 12)),
        *delays("LS", ("G_n", "DIR"), end, rise=(25, 40), fall=(27, 40), quantity="enable"),
        *delays("LS", ("G_n", "DIR"), end, both=(None, 28), quantity="disable"),
        *delays("HC", start, end, both=(9, 18), source=PHILIPS, conditions=USUAL),
        *delays("HC", start, end, both=(None, 23), source=PHILIPS, conditions="4.5 V, -40 to 85 degC, 50 pF"),
        *delays("HC", start, end, both=(7, None), source=PHILIPS, conditions=LIGHT),
        *delays("HC", ("G_n",), end, both=(11, None), quantity="enable", source=PHILIPS, conditions=USUAL),
        *delays("HC", ("G_n",), end, both=(15, None), quantity="disable", source=PHILIPS, conditions=USUAL),
        *delays("HC", ("G_n", "DIR"), end, both=(None, 30), quantity="enable"),
        *delays("HC", ("G_n", "DIR"), end, both=(None, 30), quantity="disable"),
        *delays("HCT", start, end, both=(12, 22), source=PHILIPS, conditions=USUAL),
        *delays("HCT", start, end, both=(None, 33), source=PHILIPS, conditions="4.5 V, -40 to 125 degC, 50 pF"),
        *delays("HCT", start, end, both=(10, None), source=PHILIPS, conditions=LIGHT),
        *delays("HCT", ("G_n",), end, both=(16, 30), quantity="enable", source=PHILIPS, conditions=USUAL),
        *delays("HCT", ("G_n",), end, both=(None, 30), quantity="disable", source=PHILIPS, conditions=USUAL),
        *delays("HCT", ("DIR",), end, both=(None, 30), quantity="enable"),
        *delays("HCT", ("DIR",), end, both=(None, 30), quantity="disable"),
        *delays("AC", start, end, both=(None, 7)),
        *bus_driver_currents(end),
    )


figures = (
    *one_way("A", "B"),
    *one_way("B", "A"),
    stated("LS", "output high", unit="V", minimum=2.0, conditions="-15 mA", source="Fairchild DM74LS245 p.2"),
    stated("F", "output low", end="B", unit="V", maximum=0.55, conditions="64 mA", source="Motorola MC74F245 p.4-116"),
    stated("HC", "power capacitance", typical=30, unit="pF", conditions="each bit", source=PHILIPS),
)

entry = Entry(
    number="245",
    title="octal two-way bus buffer",
    kind="buffer",
    families=("LS", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
    behaviour=behaviour,
    figures=figures,
)
