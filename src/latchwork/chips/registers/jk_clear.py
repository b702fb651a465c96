"""Dual JK flip-flop with clear, in two pinouts.

What it does
    J alone sets, K alone clears, both together turn the flip-flop over, none holds it. In LS, HC and HCT what J and
    K are at the falling edge of CLK counts. The standard TTL parts are pulse-triggered: they gather J and K all the
    time CLK is high, catch a moment in which J is high while Q is low (or K while Q is high), and show the result
    when CLK falls. /CLR low clears at once.

Pins
    73: 1CLK 1, /1CLR 2, 1K 3, VCC 4, 2CLK 5, /2CLR 6, 2J 7, /2Q 8, 2Q 9, 2K 10, GND 11, 1Q 12, /1Q 13, 1J 14.
    107: 1J 1, /1Q 2, 1Q 3, 1K 4, 2Q 5, /2Q 6, GND 7, 2J 8, 2CLK 9, /2CLR 10, 2K 11, 1CLK 12, /1CLR 13, VCC 14.

Function table
    ====  =====================  =  =  ============
    /CLR  CLK                    J  K  Q
    ====  =====================  =  =  ============
    L     x                      x  x  L
    H     fall (TTL: H, then L)  L  L  held
    H     fall (TTL: H, then L)  H  L  H
    H     fall (TTL: H, then L)  L  H  L
    H     fall (TTL: H, then L)  H  H  turned over
    ====  =====================  =  =  ============

    /Q is the inverse of Q.

Timing
    Setup is counted to the falling edge of CLK; for the pulse-triggered TTL parts to the rising edge already.

Mistakes people make
    Putting an LS part in place of a TTL part, or the other way round, where J or K move while CLK is high. Supply
    pins of the 73 at 4 and 11 instead of the corners.

Sources
    Usual HC and HCT figures of the 73: Philips 74HC/HCT73 p.2. Function, pins and other figures from memory (SN7473,
    SN74LS73A, SN74107, SN74LS107A; 74HC/HCT).
"""

from latchwork.chips.figures import (
    LIGHT,
    clock_limit,
    delays,
    remembered,
    remembered_clock,
    remembered_pulses,
    remembered_times,
)
from latchwork.chips.gates.packing import vectors_of
from latchwork.chips.pins import dip
from latchwork.chips.registers.jk import edge_triggered, pulse_triggered, units
from latchwork.parts import Entry, Figure

pins = dip("1CLK:i /1CLR:i 1K:i VCC 2CLK:i /2CLR:i 2J:i /2Q:o 2Q:o 2K:i GND 1Q:o /1Q:o 1J:i")
corner_pins = dip("1J:i /1Q:o 1Q:o 1K:i 2Q:o /2Q:o GND 2J:i 2CLK:i /2CLR:i 2K:i 1CLK:i /1CLR:i VCC")

figures = (
    *delays("", ("CLK",), "Q", rise=(16, 25), fall=(25, 40)),
    *delays("", ("CLK",), "Q_n", rise=(16, 25), fall=(25, 40)),
    *delays("", ("CLR_n",), "Q", fall=(25, 40)),
    *delays("", ("CLR_n",), "Q_n", rise=(16, 25)),
    remembered("", "setup", "J", "CLK", edge="rise", minimum=0),
    remembered("", "setup", "K", "CLK", edge="rise", minimum=0),
    remembered("", "hold", "J", "CLK", edge="fall", minimum=0),
    remembered("", "hold", "K", "CLK", edge="fall", minimum=0),
    *remembered_pulses("", CLK=20, CLR_n=25),
    remembered_clock("", "CLK", 15),
    *delays("LS", ("CLK", "CLR_n"), "Q", both=(15, 20)),
    *delays("LS", ("CLK", "CLR_n"), "Q_n", both=(15, 20)),
    *remembered_times("LS", "setup", "CLK", J=20, K=20),
    *remembered_times("LS", "hold", "CLK", J=0, K=0),
    *remembered_pulses("LS", CLK=20, CLR_n=25),
    remembered_clock("LS", "CLK", 30),
    *delays("HC", ("CLK", "CLR_n"), "Q", both=(None, 32)),
    *delays("HC", ("CLK", "CLR_n"), "Q_n", both=(None, 32)),
    *remembered_times("HC", "setup", "CLK", J=16, K=16),
    *remembered_times("HC", "hold", "CLK", J=3, K=3),
    *delays("HCT", ("CLK", "CLR_n"), "Q", both=(None, 38)),
    *delays("HCT", ("CLK", "CLR_n"), "Q_n", both=(None, 38)),
    *remembered_times("HCT", "setup", "CLK", J=16, K=16),
    *remembered_times("HCT", "hold", "CLK", J=3, K=3),
)

PHILIPS = "Philips 74HC/HCT73 December 1990 p.2"


def quick(family: str, true: float, inverted: float, cleared: float) -> tuple[Figure, ...]:
    """Usual delays of the 73 from the clock to Q and to /Q, and from clear, from the quick reference data."""
    rows = (("CLK", "Q", true), ("CLK", "Q_n", inverted), ("CLR_n", "Q", cleared), ("CLR_n", "Q_n", cleared))
    return tuple(
        row
        for start, end, usual in rows
        for row in delays(family, (start,), end, both=(usual, None), source=PHILIPS, conditions=LIGHT)
    )


figures_73 = (
    *quick("HC", true=16, inverted=16, cleared=15),
    *quick("HCT", true=15, inverted=18, cleared=15),
    clock_limit("HC", "CLK", PHILIPS, usual=77),
    clock_limit("HCT", "CLK", PHILIPS, usual=79),
    *figures,
)

middle = Entry(
    number="73",
    title="dual JK flip-flop with clear, supply at pins 4 and 11",
    kind="register",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    vectors=vectors_of(units(preset=False)),
    behaviour=edge_triggered(preset=False),
    behaviours=(("", pulse_triggered(preset=False)),),
    units=units(preset=False),
    figures=figures_73,
)

entries = (middle, middle.renamed("107", title="dual JK flip-flop with clear", pins=corner_pins, figures=figures))
