"""Oscillator element: a Schmitt inverter, a resistor and a capacitor, or a 555.

What it does
    Gives a square wave whose period is the chip's parameter ``period``, in picoseconds.

Pins
    oscillator: OUT 1. No package of its own.

Function table
    OUT starts low and first rises after half a period.

Timing
    Half and half here; on the bench the period is good to some tens of percent.

Mistakes people make
    Reckoning the frequency of a Schmitt oscillator with typical thresholds and then relying on it.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Timer, TimerKind

entry = Entry(
    number="oscillator",
    title="oscillator of a resistor and a capacitor",
    kind="clock",
    families=("",),
    pins=dip("OUT:o"),
    behaviour=Behaviour(
        timers=(Timer("wave", TimerKind.OSCILLATOR, time="period"),), drives=(Drive("OUT", variable("wave")),)
    ),
    width_mil=0,
)
