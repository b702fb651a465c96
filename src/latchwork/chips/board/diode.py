"""Diode.

What it does
    Lets current pass from A to K and not back. It has no behaviour here: a wired gate of diodes is refused by nothing
    but does nothing either. Use gates, or open-collector outputs with a pull-up, where a level must come of it.

Pins
    diode: A (anode) 1, K (cathode, the ring) 2. No dual in-line package.

Function table
    =========  ===========
    A above K  passes
    A below K  does not
    =========  ===========

Timing
    None here; a 1N4148 turns off in 4 ns, a 1N4001 in microseconds.

Mistakes people make
    Taking its 0.6 V for nothing: a low level through a diode is no low level for a CMOS input. No diode across a relay.

Sources
    From memory (1N4148 data sheet); common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry

entry = Entry(
    number="diode",
    title="diode (no behaviour)",
    kind="passive",
    families=("",),
    pins=dip("A:p K:p"),
    behaviour=Behaviour(),
    width_mil=0,
)
