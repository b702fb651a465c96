"""Octal three-state inverting buffer with inputs opposite to outputs.

What it does
    Eight inverters; all drive while both /G1 and /G2 are low, else all are off.

Pins
    Those of the 541: /G1 1, A1 to A8 2 to 9, GND 10, Y8 to Y1 11 to 18 (straight across from the inputs), /G2 19,
    VCC 20.

Function table
    ===  ===  =  ===
    /G1  /G2  A  Y
    ===  ===  =  ===
    L    L    L  H
    L    L    H  L
    H    x    x  off
    x    H    x  off
    ===  ===  =  ===

Timing
    Delay from A; enable and disable times from either /G.

Mistakes people make
    Taking the 541, which has the same pins and does not invert. Leaving the second enable open: both must be low.

Sources
    HC figures: ST M54/M74HC540/541 p.6/12; usual HC and HCT delays: Philips 74HC/HCT540 p.2. Function, pins and other
    figures from memory (SN74LS540 data sheet SDLS180).
"""

from latchwork.chips.buffers.octal_one_way import ENABLES, ST, USUAL, both_low, pins
from latchwork.chips.figures import LIGHT, bus_driver_currents, delays, stated
from latchwork.chips.pins import numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

behaviour = Behaviour(drives=(Drive("Y", ~variable("A", 8), both_low, OutputKind.THREE_STATE),))

PHILIPS = "Philips 74HC/HCT540 December 1990 p.2"

figures = (
    *delays("LS", "A", "Y", both=(9, 15)),
    *delays("LS", ENABLES, "Y", rise=(15, 25), fall=(20, 38), quantity="enable"),
    *delays("LS", ENABLES, "Y", both=(15, 25), quantity="disable"),
    *delays("HC", "A", "Y", both=(10, 17), source=ST, conditions=USUAL),
    *delays("HC", "A", "Y", both=(14, 23), source=ST, conditions="4.5 V, 25 degC, 150 pF"),
    *delays("HC", ENABLES, "Y", both=(13, 22), quantity="enable", source=ST, conditions=f"{USUAL}, 1 kohm"),
    *delays("HC", ENABLES, "Y", both=(15, 22), quantity="disable", source=ST, conditions=USUAL),
    *delays("HCT", "A", "Y", both=(11, None), source=PHILIPS, conditions=LIGHT),
    stated("HCT", "power capacitance", typical=44, unit="pF", conditions="each buffer", source=PHILIPS),
    *delays("HCT", "A", "Y", both=(None, 24)),
    *delays("HCT", ENABLES, "Y", both=(None, 35), quantity="enable"),
    *delays("HCT", ENABLES, "Y", both=(None, 35), quantity="disable"),
    *delays("HC", "A", "Y", both=(9, None), source=PHILIPS, conditions=LIGHT),
    stated("HC", "power capacitance", typical=31, unit="pF", conditions="each buffer", source=ST),
    *bus_driver_currents("Y"),
)

entry = Entry(
    number="540",
    title="octal three-state inverting buffer, inputs opposite to outputs",
    kind="buffer",
    families=("LS", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("A", numbered("A", 8)), ("Y", numbered("Y", 8))),
    behaviour=behaviour,
    figures=figures,
)
