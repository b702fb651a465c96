"""Switch that stays where it is put: a single pole between two pins.

What it does
    Closed, it makes one net of the nets on A and B; open, it joins nothing. A level on a net needs a pull besides.

Pins
    switch: A 1, B 2, alike. No dual in-line package.

Function table
    ======  ============
    switch  A and B
    ======  ============
    open    apart
    closed  one net
    ======  ============

Timing
    Bounces for some milliseconds on the bench; not modelled: use a hand clock where a clean edge counts.

Mistakes people make
    Leaving the pull away: the open switch then gives no level at all.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry, Tie, TieKind

entry = Entry(
    number="switch",
    title="switch",
    kind="switch",
    families=("",),
    pins=dip("A:p B:p"),
    behaviour=Behaviour(ties=(Tie("contact", "A", "B", TieKind.SWITCH),)),
    width_mil=0,
)
