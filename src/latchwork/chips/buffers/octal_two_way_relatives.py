"""Octal two-way bus buffers: enables for each way (623), direction and enable (640 inverting, 645).

What it does
    623: GAB high shows A on B, /GBA low shows B on A; both may be active, then each side keeps the other.
    640, 645: while /G is low, DIR high shows A on B, DIR low shows B on A; /G high turns both off. The 640 inverts;
    the 645 is a 245 under another number.

Pins
    623: GAB 1, A1 to A8 2 to 9, GND 10, B8 to B1 11 to 18, /GBA 19, VCC 20.
    640, 645: those of the 245. DIR 1, A1 to A8 2 to 9, GND 10, B8 to B1 11 to 18, /G 19, VCC 20.

Function table
    ===  ====  =====  =====
    GAB  /GBA  A      B       (623)
    ===  ====  =====  =====
    L    L     B      read
    H    H     read   A
    L    H     off    off
    H    L     drive  drive
    ===  ====  =====  =====

    ==  ===  ==============  ==============
    /G  DIR  A               B                (640, 645)
    ==  ===  ==============  ==============
    L   L    B (640: not B)  read
    L   H    read            A (640: not A)
    H   x    off             off
    ==  ===  ==============  ==============

Timing
    Delay from one side to the other; enable and disable times from the controls.

Mistakes people make
    Turning DIR while /G is low. Taking the 640 for a 245: same pins, but it inverts. Taking the 620, which inverts,
    for the 623.

Sources
    640, 645, function table and pins: Motorola FAST AND LS TTL DATA, SN54/74LS640 p.5-1. Usual HC and HCT
    delays of the 640: Philips 74HC/HCT640 p.2; ALS645 figures: TI SDAS278 p.3. The 623 and other figures from memory.
"""

from latchwork.chips.buffers.octal_two_way import a_to_b, joined
from latchwork.chips.buffers.octal_two_way import behaviour as behaviour_645
from latchwork.chips.buffers.octal_two_way import pins as pins_645
from latchwork.chips.figures import LIGHT, bus_driver_currents, delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind

pins_623 = dip("""
    GAB:i A1:b A2:b A3:b A4:b A5:b A6:b A7:b A8:b GND
    B8:b B7:b B6:b B5:b B4:b B3:b B2:b B1:b /GBA:i VCC
""")

a, b = variable("A", 8), variable("B", 8)

behaviour_623 = Behaviour(
    drives=(
        Drive("A", b, ~variable("GBA_n"), OutputKind.THREE_STATE),
        Drive("B", a, variable("GAB"), OutputKind.THREE_STATE),
    )
)
behaviour_640 = Behaviour(
    drives=(
        Drive("A", ~b, joined & ~a_to_b, OutputKind.THREE_STATE),
        Drive("B", ~a, joined & a_to_b, OutputKind.THREE_STATE),
    )
)


def one_way(start: str, end: str, controls: tuple[str, ...]) -> tuple[Figure, ...]:
    """The rows for one direction."""
    return (
        *delays("LS", (start,), end, both=(8, 15)),
        *delays("LS", controls, end, rise=(26, 40), fall=(31, 40), quantity="enable"),
        *delays("LS", controls, end, both=(15, 25), quantity="disable"),
        *delays("HC", (start,), end, both=(9, 18)),
        *delays("HC", controls, end, both=(None, 30), quantity="enable"),
        *delays("HC", controls, end, both=(None, 30), quantity="disable"),
        *delays("HCT", (start,), end, both=(11, 22)),
        *delays("HCT", controls, end, both=(None, 30), quantity="enable"),
        *delays("HCT", controls, end, both=(None, 30), quantity="disable"),
        *bus_driver_currents(end),
    )


figures_623 = (*one_way("A", "B", ("GAB",)), *one_way("B", "A", ("GBA_n",)))
both_ways = (*one_way("A", "B", ("G_n", "DIR")), *one_way("B", "A", ("G_n", "DIR")))

PHILIPS = "Philips 74HC/HCT640 March 1988 p.2"
figures_640 = (
    *(
        row
        for family in ("HC", "HCT")
        for start, end in ("AB", "BA")
        for row in delays(family, (start,), end, both=(9, None), source=PHILIPS, conditions=LIGHT)
    ),
    stated("HC", "power capacitance", typical=35, unit="pF", conditions="each buffer", source=PHILIPS),
    stated("HCT", "power capacitance", typical=35, unit="pF", conditions="each buffer", source=PHILIPS),
    *both_ways,
)

TEXAS, TEXAS_LOAD = "TI SN74ALS645A SDAS278 p.3", "4.5 to 5.5 V, 0 to 70 degC, 50 pF"
figures_645 = (
    *(
        row
        for start, end in ("AB", "BA")
        for row in (
            *delays("ALS", (start,), end, both=(None, 10), source=TEXAS, conditions=TEXAS_LOAD),
            *delays("ALS", ("G_n",), end, both=(None, 20), quantity="enable", source=TEXAS, conditions=TEXAS_LOAD),
            *delays("ALS", ("G_n",), end, both=(None, 15), quantity="disable", source=TEXAS, conditions=TEXAS_LOAD),
        )
    ),
    *both_ways,
)

by_enables = Entry(
    number="623",
    title="octal two-way bus buffer, enables for each way",
    kind="buffer",
    families=("LS", "ALS", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins_623,
    vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
    behaviour=behaviour_623,
    figures=figures_623,
)
entries = (
    by_enables,
    by_enables.renamed(
        "640",
        title="octal two-way inverting bus buffer",
        families=("LS", "ALS", "F", "HC", "HCT", "AC", "ACT"),
        pins=pins_645,
        behaviour=behaviour_640,
        figures=figures_640,
    ),
    by_enables.renamed(
        "645",
        title="octal two-way bus buffer (a 245)",
        families=("LS", "ALS", "HC", "HCT"),
        pins=pins_645,
        behaviour=behaviour_645,
        figures=figures_645,
    ),
)
