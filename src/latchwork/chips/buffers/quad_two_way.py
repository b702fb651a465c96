"""Quad two-way bus buffers with an enable for each way: inverting (242), not inverting (243).

What it does
    /GAB low shows A on B; GBA high shows B on A. Both lines on one signal turn the buffer round; with /GAB high and
    GBA low both sides are off. The 242 inverts.

Pins
    /GAB 1, NC 2, A1 to A4 3 to 6, GND 7, B4 to B1 8 to 11, NC 12, GBA 13, VCC 14.

Function table
    ====  ===  ==============  ==============
    /GAB  GBA  A               B
    ====  ===  ==============  ==============
    L     L    read            A (242: not A)
    H     H    B (242: not B)  read
    H     L    off             off
    L     H    drives          drives
    ====  ===  ==============  ==============
    In the last row each side drives the other: a loop that keeps its value (243) or swings (242). Avoid it.

Timing
    Delay from one side to the other; enable and disable times from the enables.

Mistakes people make
    Taking both enables for active low. Letting both be active while a line changes late.

Sources
    LS243 delays: Renesas HD74LS243 p.3. Functions, pins and other figures from memory (SN74LS242, 243 data sheet
    SDLS145).
"""

from latchwork.chips.figures import bus_driver_currents, delays
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind

pins = dip("/GAB:i NC=NC2:n A1:b A2:b A3:b A4:b GND B4:b B3:b B2:b B1:b NC=NC12:n GBA:i VCC")

RENESAS = "Renesas HD74LS243 p.3"
_LOAD = "5 V, 45 pF, 667 ohm"


def across(a: Expression, b: Expression) -> Behaviour:
    """``b`` is what side A shows, ``a`` what side B shows."""
    return Behaviour(
        drives=(
            Drive("A", b, variable("GBA"), OutputKind.THREE_STATE),
            Drive("B", a, ~variable("GAB_n"), OutputKind.THREE_STATE),
        )
    )


a, b = variable("A", 4), variable("B", 4)


def one_way(start: str, end: str, enable: str, inverts: bool) -> tuple[Figure, ...]:
    """The rows for one direction."""
    stated_delays = (
        delays("LS", (start,), end, both=(9, 18))
        if inverts
        else delays("LS", (start,), end, both=(12, 18), source=RENESAS, conditions=_LOAD)
    )
    return (
        *stated_delays,
        *delays("LS", (enable,), end, rise=(15, 23), fall=(20, 30), quantity="enable"),
        *delays("LS", (enable,), end, both=(15, 25), quantity="disable"),
        *delays("HC", (start,), end, both=(None, 18)),
        *delays("HC", (enable,), end, both=(None, 30), quantity="enable"),
        *delays("HC", (enable,), end, both=(None, 30), quantity="disable"),
        *bus_driver_currents(end),
    )


def figures_of(inverts: bool) -> tuple[Figure, ...]:
    return (*one_way("A", "B", "GAB_n", inverts), *one_way("B", "A", "GBA", inverts))


straight = Entry(
    number="243",
    title="quad two-way bus buffer",
    kind="buffer",
    families=("LS", "ALS", "F", "HC", "HCT"),
    pins=pins,
    vectors=(("A", numbered("A", 4)), ("B", numbered("B", 4))),
    behaviour=across(a, b),
    figures=figures_of(inverts=False),
)
entries = (
    straight,
    straight.renamed(
        "242", title="quad two-way inverting bus buffer", behaviour=across(~a, ~b), figures=figures_of(inverts=True)
    ),
)
