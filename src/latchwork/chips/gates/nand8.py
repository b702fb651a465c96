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
    HC and HCT delays: Philips 74HC/HCT30 p.5; F delays: Philips 74F30 p.4. Pins and other delays from memory.
"""

from latchwork.chips.figures import LOADED, delays
from latchwork.chips.gates.packing import gates, not_all_high
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("A:i B:i C:i D:i E:i F:i GND Y:o NC=NC9:n NC=NC10:n G:i H:i NC=NC13:n VCC")

behaviour, units = gates(1, not_all_high, inputs="ABCDEFGH")

PHILIPS = "Philips 74HC/HCT30 December 1990 p.5"
PHILIPS_F = "Philips 74F30 March 1989 p.4"

figures = (
    *delays("", "ABCDEFGH", "Y", rise=(13, 22), fall=(8, 15)),
    *delays("LS", "ABCDEFGH", "Y", rise=(8, 15), fall=(13, 20)),
    *delays("F", "ABCDEFGH", "Y", rise=(3.5, 5.0), fall=(3.0, 4.5), source=PHILIPS_F, conditions="5 V, 25 degC, 50 pF"),
    *delays("HC", "ABCDEFGH", "Y", both=(15, 26), source=PHILIPS, conditions=LOADED),
    *delays("HCT", "ABCDEFGH", "Y", both=(16, 28), source=PHILIPS, conditions=LOADED),
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
