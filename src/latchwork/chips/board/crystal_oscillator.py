"""Crystal oscillator in a can.

What it does
    Gives a square wave whose period is the chip's parameter ``period``, in picoseconds.

Pins
    crystal oscillator: four pins at the corners of a 14-pin outline: NC 1, GND 7, OUT 8, VCC 14. Pin 1 has no
    connection or, in some makes, an enable that works when left open: here it has no function.

Function table
    OUT starts low and first rises after half a period.

Timing
    Duty cycle 40 to 60 % in cheap cans; half and half here.

Mistakes people make
    Tying pin 1 low: a can with an enable then stands still. Turning the can: the square corner is pin 1.

Sources
    From memory (makers' data sheets).
"""

from latchwork.logic import variable
from latchwork.parts import Behaviour, Direction, Drive, Entry, Pin, Timer, TimerKind

pins = (
    Pin("NC", 1, Direction.UNUSED, "NC/EN"),
    Pin("GND", 7, Direction.GROUND, "GND"),
    Pin("OUT", 8, Direction.OUTPUT, "OUT"),
    Pin("VCC", 14, Direction.SUPPLY, "VCC"),
)

entry = Entry(
    number="crystal oscillator",
    title="crystal oscillator",
    kind="clock",
    families=("",),
    pins=pins,
    behaviour=Behaviour(
        timers=(Timer("wave", TimerKind.OSCILLATOR, time="period"),),
        drives=(Drive("OUT", variable("wave")),),
    ),
)
