"""Octal two-way bus buffer between a 5 V side and a 3.3 V side.

What it does
    While /OE is low it joins two buses of different supplies: DIR high shows A (5 V) on B (3.3 V), DIR low shows B on
    A. While /OE is high both sides are off. Controls take the levels of side A.

Pins
    LVC4245: VCCA 1 (5 V), DIR 2, A1 to A8 3 to 10, GND 11 to 13, B8 to B1 14 to 21, /OE 22, VCCB 23 and 24 (3.3 V).
    Made in small-outline cases only; the width given is that of an adapter board. In a machine of one supply both
    supplies are joined to its rail; what each is connected to is up to the builder.

Function table
    ===  ===  ====  ====
    /OE  DIR  A     B
    ===  ===  ====  ====
    L    L    B     read
    L    H    read  A
    H    x    off   off
    ===  ===  ====  ====

Timing
    Delay from one side to the other; enable and disable times from /OE and DIR.

Mistakes people make
    Swapping the supplies. Powering the 3.3 V side first while the 5 V side is off.

Sources
    Function, pins and figures from memory (SN74LVC4245A data sheet SCAS375).
"""

from latchwork.chips.figures import delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind

pins = dip("""
    VCCA DIR:i A1:b A2:b A3:b A4:b A5:b A6:b A7:b A8:b GND GND=GND12
    GND=GND13 B8:b B7:b B6:b B5:b B4:b B3:b B2:b B1:b /OE:i VCCB VCCB=VCCB24
""")

joined, a_to_b = ~variable("OE_n"), variable("DIR")

behaviour = Behaviour(
    drives=(
        Drive("A", variable("B", 8), joined & ~a_to_b, OutputKind.THREE_STATE),
        Drive("B", variable("A", 8), joined & a_to_b, OutputKind.THREE_STATE),
    )
)


def one_way(start: str, end: str) -> tuple[Figure, ...]:
    """The rows for one direction."""
    conditions = "VCCA 5 V, VCCB 2.7 to 3.6 V, 50 pF"
    return (
        *delays("LVC", (start,), end, both=(None, 7), conditions=conditions),
        *delays("LVC", ("OE_n", "DIR"), end, both=(None, 10), quantity="enable", conditions=conditions),
        *delays("LVC", ("OE_n", "DIR"), end, both=(None, 8), quantity="disable", conditions=conditions),
    )


entry = Entry(
    number="4245",
    title="octal two-way bus buffer between 5 V and 3.3 V",
    kind="buffer",
    families=("LVC",),
    pins=pins,
    vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
    behaviour=behaviour,
    figures=(*one_way("A", "B"), *one_way("B", "A")),
    width_mil=600,
)
