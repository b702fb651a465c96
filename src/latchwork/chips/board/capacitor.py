"""Capacitors: ceramic, electrolytic.

What it does
    Holds the supply of a chip or of a board steady. It has no behaviour here; edges that a capacitor shapes are
    described by ``pulse``, ``delay``, ``oscillator`` and the reset supervisor.

Pins
    capacitor: A 1, B 2, alike. electrolytic capacitor: P (plus, the longer lead) 1, N (minus, the stripe) 2. No dual
    in-line package.

Function table
    None.

Timing
    None here.

Mistakes people make
    None at all at the chips: 100 nF between supply and ground of each. An electrolytic capacitor the wrong way round.

Sources
    Common practice.
"""

from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry

ceramic = Entry(
    number="capacitor",
    title="ceramic capacitor (no behaviour)",
    kind="passive",
    families=("",),
    pins=dip("A:p B:p"),
    behaviour=Behaviour(),
    width_mil=0,
)
entries = (
    ceramic,
    ceramic.renamed("electrolytic capacitor", title="electrolytic capacitor (no behaviour)", pins=dip("P:p N:p")),
)
