"""Bus keeper: one wire of it.

What it does
    Holds the level that its net was last driven to, more weakly than any pull: two inverters with a large resistor
    between, or a keeper in a bus driver.

Pins
    bus keeper: A 1. No package of its own; one for each net of a bus.

Function table
    ========  =====================
    A driven  net
    ========  =====================
    yes       what drives it
    no        the last driven level
    ========  =====================

Timing
    None.

Mistakes people make
    Taking a kept level for a driven one: noise on a long bus can turn it over.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry, Keeper

entry = Entry(
    number="bus keeper",
    title="bus keeper",
    kind="keeper",
    families=("",),
    pins=dip("A:p"),
    behaviour=Behaviour(keepers=(Keeper("A"),)),
    width_mil=0,
)
