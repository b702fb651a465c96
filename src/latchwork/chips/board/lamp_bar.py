"""Ten lamps in one case.

What it does
    Ten light-emitting diodes side by side, each shining while its A is high and its K is low. They drive nothing.

Pins
    LED bar: A1 to A10 (anodes) 1 to 10, K10 to K1 (cathodes) 11 to 20: each cathode opposite to its anode. Rows are 300
    mil apart. Vectors A and K. It has no supply pins.

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
    Turning it by half: the notch or printing marks the anodes. One resistor for all: brightness then depends on how
    many shine; use a resistor network.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip, numbered
from latchwork.parts import Behaviour, Entry

entry = Entry(
    number="LED bar",
    title="bar of ten lamps",
    kind="lamp",
    families=("",),
    pins=dip(" ".join([*(f"A{place}:p" for place in range(1, 11)), *(f"K{place}:p" for place in range(10, 0, -1))])),
    vectors=(("A", numbered("A", 10)), ("K", numbered("K", 10))),
    behaviour=Behaviour(),
)
