"""Eight switches in one case.

What it does
    Each joins its two pins while it is closed. They start open; all start closed where the chip's parameter ``closed``
    is 1. Each is set by itself, by its name S1 to S8.

Pins
    DIP switch: A1 to A8 1 to 8, B8 to B1 9 to 16; each B opposite to its A, rows 300 mil apart. Vectors A and B. It has
    no supply pins.

Function table
    ======  =======================
    switch  its A and B
    ======  =======================
    open    apart
    closed  one net
    ======  =======================

Timing
    None; switches of this kind bounce like others.

Mistakes people make
    Forgetting the pulls: an open switch leaves its net to itself. Taking "on" for high: with a pull-up and ground it is
    low.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip, numbered
from latchwork.parts import Behaviour, Entry, Tie, TieKind

NUMBERS = range(1, 9)

entry = Entry(
    number="DIP switch",
    title="eight switches",
    kind="switch",
    families=("",),
    pins=dip(" ".join([*(f"A{number}:p" for number in NUMBERS), *(f"B{number}:p" for number in reversed(NUMBERS))])),
    vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
    behaviour=Behaviour(
        ties=tuple(Tie(f"S{number}", f"A{number}", f"B{number}", TieKind.SWITCH) for number in NUMBERS)
    ),
)
