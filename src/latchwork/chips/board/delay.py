"""Delay element.

What it does
    OUT follows IN after the time of the chip's parameter ``time``, in picoseconds. It stands for a delay line, a chain
    of gates used for its delay, or a resistor and a capacitor before a Schmitt input.

Pins
    delay: IN 1, OUT 2. No package of its own.

Function table
    OUT is what IN was ``time`` ago.

Timing
    Both edges alike.

Mistakes people make
    Building on a delay of gates whose least value no sheet promises.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Timer, TimerKind

entry = Entry(
    number="delay",
    title="delay",
    kind="element",
    families=("",),
    pins=dip("IN:i OUT:o"),
    behaviour=Behaviour(
        timers=(Timer("late", TimerKind.DELAY, variable("IN"), "time"),), drives=(Drive("OUT", variable("late")),)
    ),
    width_mil=0,
)
