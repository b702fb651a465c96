"""Eight-input NAND gate.

What it does
    One gate; its output is low only where all eight inputs are high.

Pins
    A to F 1 to 6, G 11, H 12, Y 8. Pins 9, 10 and 13 lead nowhere. GND 7, VCC 14.

Function table
    ======  =
    A to H  Y
    ======  =
    any L   H
    all H   L
    ======  =

Timing
    One gate delay from any input; with eight inputs the fall is the slow one in LS.

Mistakes people make
    Using it to find zero: it finds all ones. Expecting G and H beside F.

Sources
    Pins and delays from memory of makers' data sheets.
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, not_all_high
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("A:i B:i C:i D:i E:i F:i GND Y:o NC=NC9:n NC=NC10:n G:i H:i NC=NC13:n VCC")

behaviour, units = gates(1, not_all_high, inputs="ABCDEFGH")

figures = (
    *delays("", "ABCDEFGH", "Y", rise=(13, 22), fall=(8, 15)),
    *delays("LS", "ABCDEFGH", "Y", rise=(8, 15), fall=(13, 20)),
    *delays("HC", "ABCDEFGH", "Y", both=(15, 26)),
    *delays("HCT", "ABCDEFGH", "Y", both=(16, 28)),
)

entry = Entry(
    number="30",
    title="eight-input NAND gate",
    kind="gate",
    families=("", "LS", "ALS", "S", "F", "HC", "HCT", "AHC", "AHCT"),
    pins=pins,
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nand",
    inputs=8,
)
