"""Hex inverter with Schmitt-trigger inputs.

What it does
    Six inverters whose inputs switch at a higher level on the way up than on the way down: slow or noisy
    signals become clean edges. Between the two levels an output keeps what it was.

Pins
    As the 04: 1A 1, 1Y 2; on the other side the outputs come first: 4Y 8, 4A 9. GND 7, VCC 14.

Function table
    =  =
    A  Y
    =  =
    L  H
    H  L
    =  =

Timing
    One gate delay, somewhat longer than that of a 04, counted from the moment the threshold is crossed.

Mistakes people make
    Building an RC delay or oscillator from the middle of the data-sheet range: the thresholds of two specimens
    differ by half a volt and more. Using one to drive a crystal.

Sources
    Pins from memory. Thresholds: ON MC74HC14A p.3, TI CD74HCT14 p.4; LS from memory. HC and HCT delays:
    TI CD74HC14 p.5; others from memory.
"""

from latchwork.chips.figures import LIGHT, LOADED, delays, remembered, stated
from latchwork.chips.gates.packing import gates, inverted, vectors_of
from latchwork.chips.pins import dip
from latchwork.parts import Entry

pins = dip("1A:i 1Y:o 2A:i 2Y:o 3A:i 3Y:o GND 4Y:o 4A:i 5Y:o 5A:i 6Y:o 6A:i VCC")

behaviour, units = gates(6, inverted, inputs="A")

TEXAS = "TI CD74HC14, CD74HCT14 p.5"

figures = (
    *delays("", "A", "Y", both=(15, 22)),
    *delays("LS", "A", "Y", both=(15, 22)),
    *delays("HC", "A", "Y", both=(None, 27), source=TEXAS, conditions=LOADED),
    *delays("HC", "A", "Y", both=(11, None), source=TEXAS, conditions=LIGHT),
    *delays("HCT", "A", "Y", both=(None, 38), source=TEXAS, conditions=LOADED),
    *delays("HCT", "A", "Y", both=(16, None), source=TEXAS, conditions=LIGHT),
    remembered(
        "LS", "input high", end="A", unit="V", minimum=1.4, typical=1.6, maximum=1.9, conditions="VT+, 5 V, 25 degC"
    ),
    remembered(
        "LS", "input low", end="A", unit="V", minimum=0.5, typical=0.8, maximum=1.0, conditions="VT-, 5 V, 25 degC"
    ),
    stated(
        "HC", "input high", end="A", unit="V", minimum=2.3, conditions="VT+, 4.5 V, 25 degC", source="ON MC74HC14A p.3"
    ),
    stated(
        "HCT",
        "input high",
        end="A",
        unit="V",
        minimum=1.2,
        maximum=1.9,
        conditions="VT+, 4.5 V",
        source="TI CD74HCT14 p.4",
    ),
)

entry = Entry(
    number="14",
    title="hex inverter with Schmitt-trigger inputs",
    kind="gate",
    families=("", "LS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=vectors_of(units),
    behaviour=behaviour,
    units=units,
    figures=figures,
    function="schmitt inverter",
    inputs=1,
)
