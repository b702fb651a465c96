"""Dual five-input NOR gate.

What it does
    Two independent gates; an output is high only where all five inputs are low: two of them and a NAND tell that
    ten lines are all zero.

Pins
    1A 1, 1B 2, 1C 3, 2A 4, 1Y 5, 2Y 6, GND 7, 2B 8, 2C 9, 2D 10, 2E 11, 1D 12, 1E 13, VCC 14.

Function table
    ===============  =
    A to E           Y
    ===============  =
    all low          H
    one or more high L
    ===============  =

Timing
    One gate delay from any input.

Mistakes people make
    Expecting each gate on one side: its inputs lie on both.

Sources
    Function, pins and delays from memory of makers' data sheets (SN74S260, SN74LS260, 74F260).
"""

from latchwork.chips.figures import delays
from latchwork.chips.gates.packing import gates, none_high, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1B:i 1C:i 2A:i 1Y:o 2Y:o GND 2B:i 2C:i 2D:i 2E:i 1D:i 1E:i VCC")

behaviour, units = gates(2, none_high, inputs="ABCDE")

figures = (
    *delays("LS", "ABCDE", "Y", rise=(5, 15), fall=(6, 15)),
    *delays("S", "ABCDE", "Y", rise=(4, 5.5), fall=(4, 6)),
    *delays("F", "ABCDE", "Y", rise=(None, 5.5), fall=(None, 4.5)),
)

entry = Entry(
    number="260",
    title="dual five-input NOR gate",
    kind="gate",
    families=("LS", "S", "F"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="nor",
    inputs=5,
)
