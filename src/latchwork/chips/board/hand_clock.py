"""Hand clock: a source of clean edges, made by the person at the bench.

What it does
    OUT is what the person sets: a toggle or button with its debouncing (two cross-coupled gates, or a 555), as one
    element.

Pins
    hand clock: OUT 1. No package of its own.

Function table
    OUT is low until it is set.

Timing
    Each edge is a tick of its own.

Mistakes people make
    Leaving the debouncing away on the bench: one press then gives several clocks.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Timer, TimerKind

entry = Entry(
    number="hand clock",
    title="hand clock, debounced",
    kind="clock",
    families=("",),
    pins=dip("OUT:o"),
    behaviour=Behaviour(timers=(Timer("hand", TimerKind.HAND),), drives=(Drive("OUT", variable("hand")),)),
    width_mil=0,
)
