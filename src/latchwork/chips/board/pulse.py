"""Pulse element: a short pulse from a rising edge.

What it does
    OUT goes high at each rising edge of IN for the time of the chip's parameter ``width``, in picoseconds; an edge
    during the pulse starts the time again. It stands for an edge detector of a capacitor and a resistor, for an odd
    chain of inverters with a gate, or for a one-shot.

Pins
    pulse: IN 1, OUT 2. No package of its own.

Function table
    ====  =================
    IN    OUT
    ====  =================
    rise  H for ``width``
    else  unchanged
    ====  =================

Timing
    ``width`` after the last rising edge OUT falls.

Mistakes people make
    A pulse from a resistor and a capacitor whose length depends on the family, the temperature and the load.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Timer, TimerKind

entry = Entry(
    number="pulse",
    title="pulse from a rising edge",
    kind="element",
    families=("",),
    pins=dip("IN:i OUT:o"),
    behaviour=Behaviour(
        timers=(Timer("shot", TimerKind.PULSE, variable("IN"), "width"),), drives=(Drive("OUT", variable("shot")),)
    ),
    width_mil=0,
)
