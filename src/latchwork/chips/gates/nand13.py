"""Thirteen-input NAND gate.

What it does
    The output is low only where all thirteen inputs are high: finds one address or one count in a single package.

Pins
    A to G 1 to 7, GND 8, Y 9, H to M 10 to 15, VCC 16.

Function table
    ===================  =
    A to M               Y
    ===================  =
    all high             L
    one or more low      H
    ===================  =

Timing
    One gate delay, longer than that of smaller NAND gates.

Mistakes people make
    Leaving inputs that are not needed open: tie them high.

Sources
    HC delays: Renesas HD74HC133 p.3, Philips 74HC133 p.2. Function, pins and other delays from memory (SN74S133,
    SN74ALS133).
"""

from latchwork.chips.figures import LIGHT, LOADED, delays
from latchwork.chips.gates.packing import gates, not_all_high
from latchwork.chips.pins import dip
from latchwork.parts import Entry

INPUTS = "ABCDEFGHIJKLM"

pins = dip("A:i B:i C:i D:i E:i F:i G:i GND Y:o H:i I:i J:i K:i L:i M:i VCC")

behaviour, units = gates(1, not_all_high, inputs=INPUTS)

RENESAS = "Renesas HD74HC133 Rev.2.00 p.3"
PHILIPS = "Philips 74HC133 September 1993 p.2"

figures = (
    *delays("S", INPUTS, "Y", rise=(4, 6), fall=(4.5, 7)),
    *delays("ALS", INPUTS, "Y", rise=(None, 11), fall=(None, 25)),
    *delays("HC", INPUTS, "Y", both=(13, 30), source=RENESAS, conditions=LOADED),
    *delays("HC", INPUTS, "Y", both=(9, None), source=PHILIPS, conditions=LIGHT),
)

entry = Entry(
    number="133",
    title="thirteen-input NAND gate",
    kind="gate",
    families=("LS", "ALS", "S", "HC"),
    pins=pins,
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nand",
    inputs=13,
)
