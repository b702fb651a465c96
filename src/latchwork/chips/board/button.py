"""Button: a switch that is closed only while it is pressed.

What it does
    Pressed, it makes one net of the nets on A and B; released, it joins nothing.

Pins
    button: A 1, B 2, alike. No dual in-line package.

Function table
    ========  =======
    button    A and B
    ========  =======
    released  apart
    pressed   one net
    ========  =======

Timing
    Bounces for some milliseconds on the bench; not modelled.

Mistakes people make
    Clocking a counter from a bare button: one press counts several times. The four legs of a small button are two pairs
    that are always joined.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry, Tie, TieKind

entry = Entry(
    number="button",
    title="button",
    kind="button",
    families=("",),
    pins=dip("A:p B:p"),
    behaviour=Behaviour(ties=(Tie("contact", "A", "B", TieKind.SWITCH),)),
    width_mil=0,
)
