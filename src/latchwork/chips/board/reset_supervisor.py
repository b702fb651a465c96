"""Reset supervisor.

What it does
    Holds /RESET low from power-up for the time of the chip's parameter ``hold``, in picoseconds, then high.

Pins
    reset supervisor: /RESET 1, VCC 2, GND 3; a small case with three leads, whose order differs from make to make.

Function table
    ==========  ======
    since power /RESET
    ==========  ======
    less        L
    ``hold``    H
    ==========  ======

Timing
    Typical parts hold for 100 to 350 ms; a simulated machine needs a few clocks.

Mistakes people make
    Resetting by a resistor and a capacitor alone: the slow edge needs a Schmitt input, and a short dip of the supply is
    missed.

Sources
    From memory (makers' data sheets).
"""

from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Timer, TimerKind

entry = Entry(
    number="reset supervisor",
    title="reset supervisor",
    kind="supervisor",
    families=("",),
    pins=dip("/RESET:o VCC GND"),
    behaviour=Behaviour(
        timers=(Timer("ready", TimerKind.STARTUP, time="hold"),), drives=(Drive("RESET_n", variable("ready")),)
    ),
    width_mil=0,
)
