"""Quad two-input NAND gate with strong outputs: push-pull (37) or open-collector (38).

What it does
    The gates of a 00 with outputs that sink three times the current, for lamps, long lines and many loads. The 38
    pulls low or lets go; it needs a pull-up resistor.

Pins
    As the 00: 1A 1, 1B 2, 1Y 3; on the other side the outputs come first: 3Y 8, 4Y 11. GND 7, VCC 14.

Function table
    =  =  ======  ======
    A  B  37: Y   38: Y
    =  =  ======  ======
    L  x  H       let go
    x  L  H       let go
    H  H  L       L
    =  =  ======  ======

Timing
    A little slower than a 00, but less so under load.

Mistakes people make
    Joining outputs of a 37: only those of the 38 may share a net.

Sources
    Function and LS output current: Fairchild DM74LS38 DS006363. Pins, delays and other currents from memory of
    makers' data sheets (SN7437, SN7438 and their LS and S).
"""

from latchwork.chips.figures import delays, remembered, stated
from latchwork.chips.gates.nand2 import pins
from latchwork.chips.gates.packing import gates, not_all_high, vectors_of
from latchwork.parts import Entry, OutputKind

behaviour, units = gates(4, not_all_high, inputs="AB")
open_behaviour, _ = gates(4, not_all_high, inputs="AB", kind=OutputKind.OPEN_COLLECTOR)

sinks = (
    remembered("", "output current low", end="Y", unit="mA", maximum=48),
    stated("LS", "output current low", end="Y", unit="mA", maximum=24, source="Fairchild DM74LS38 DS006363"),
    remembered("S", "output current low", end="Y", unit="mA", maximum=60),
)

figures = (
    *delays("", "AB", "Y", rise=(13, 22), fall=(8, 15)),
    *delays("LS", "AB", "Y", both=(12, 24)),
    *delays("S", "AB", "Y", both=(4, 6.5)),
    remembered("", "output current high", end="Y", unit="mA", maximum=-1.2),
    remembered("LS", "output current high", end="Y", unit="mA", maximum=-1.2),
    *sinks,
)

open_figures = (
    *delays("", "AB", "Y", rise=(14, 22), fall=(11, 18)),
    *delays("LS", "AB", "Y", rise=(20, 32), fall=(18, 28)),
    *delays("S", "AB", "Y", both=(6.5, 10)),
    *sinks,
)

push_pull = Entry(
    number="37",
    title="quad two-input NAND buffer",
    kind="gate",
    families=("", "LS", "ALS", "S", "F"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
)

entries = (
    push_pull,
    push_pull.renamed(
        "38", title="quad two-input NAND buffer, open collector", behaviour=open_behaviour, figures=open_figures
    ),
)
