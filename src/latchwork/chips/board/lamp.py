"""Lamp: a light-emitting diode.

What it does
    Shines while A is high and K is low. It drives nothing; its colour is a parameter of the chip.

Pins
    LED: A (anode, the longer lead) 1, K (cathode, the flat side) 2. No dual in-line package.

Function table
    =  =  =====
    A  K  light
    =  =  =====
    H  L  on
    H  H  off
    L  x  off
    =  =  =====

Timing
    None.

Mistakes people make
    Leaving the series resistor away. Hanging a lamp on an output that also feeds inputs: the lamp may pull a high level
    of TTL below what an input asks for.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry

entry = Entry(
    number="LED",
    title="lamp (light-emitting diode)",
    kind="lamp",
    families=("",),
    pins=dip("A:p K:p"),
    behaviour=Behaviour(),
    width_mil=0,
)
