"""Resistor.

What it does
    Hands a strong level of one end on to the other as a weak one: a pull-up or pull-down where that end is
    on a rail. The chip's parameter ``ohms`` is its value.

Pins
    resistor: A 1, B 2, alike. No dual in-line package.

Function table
    =========  =================
    one end    other end
    =========  =================
    strong 0   weak 0
    strong 1   weak 1
    weak       nothing handed on
    =========  =================

Timing
    None here; with the capacitance of a net it makes edges slow.

Mistakes people make
    A pull so strong that an LS output cannot sink it, or so weak that a TTL input (0.4 mA out of it when low) is
    not held low by it.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry, Tie, TieKind

entry = Entry(
    number="resistor",
    title="resistor",
    kind="resistor",
    families=("",),
    pins=dip("A:p B:p"),
    behaviour=Behaviour(ties=(Tie("body", "A", "B", TieKind.RESISTOR),)),
    width_mil=0,
)
