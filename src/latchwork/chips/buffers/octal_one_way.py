"""Octal three-state buffer with inputs opposite to outputs.

What it does
    Eight buffers; all drive while both /G1 and /G2 are low, else all are off.

Pins
    /G1 1, A1 to A8 2 to 9, GND 10, Y8 to Y1 11 to 18 (straight across from the inputs), /G2 19, VCC 20.

Function table
    ===  ===  =  ===
    /G1  /G2  A  Y
    ===  ===  =  ===
    L    L    L  L
    L    L    H  H
    H    x    x  off
    x    H    x  off
    ===  ===  =  ===

Timing
    Delay from A; enable and disable times from either /G.

Mistakes people make
    Leaving the second enable open: both must be low. Taking the 540, which has the same pins and inverts.

Sources
    HC delays: ST M54/M74HC540/541 p.6/12. Function, pins and other figures from memory (SN74LS541 data sheet
    SDLS180; Philips 74HC/HCT541).
"""

from latchwork.chips.figures import bus_driver_currents, delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind

pins = dip("""
    /G1:i A1:i A2:i A3:i A4:i A5:i A6:i A7:i A8:i GND
    Y8:o Y7:o Y6:o Y5:o Y4:o Y3:o Y2:o Y1:o /G2:i VCC
""")

both_low = ~(variable("G1_n") | variable("G2_n"))

behaviour = Behaviour(drives=(Drive("Y", variable("A", 8), both_low, OutputKind.THREE_STATE),))

ST = "ST M54/M74HC540/541 p.6/12"
USUAL = "4.5 V, 25 degC, 50 pF"
ENABLES = ("G1_n", "G2_n")

figures = (
    *delays("LS", "A", "Y", rise=(12, 15), fall=(12, 18)),
    *delays("LS", ENABLES, "Y", rise=(20, 32), fall=(25, 38), quantity="enable"),
    *delays("LS", ENABLES, "Y", both=(18, 29), quantity="disable"),
    *delays("HC", "A", "Y", both=(10, 17), source=ST, conditions=USUAL),
    *delays("HC", "A", "Y", both=(14, 23), source=ST, conditions="4.5 V, 25 degC, 150 pF"),
    *delays(
        "HC", ENABLES, "Y", both=(13, 22), quantity="enable", source=ST, conditions="4.5 V, 25 degC, 50 pF, 1 kohm"
    ),
    *delays("HC", ENABLES, "Y", both=(15, 22), quantity="disable", source=ST, conditions=USUAL),
    *delays("HCT", "A", "Y", both=(None, 28)),
    *delays("HCT", ENABLES, "Y", both=(None, 35), quantity="enable"),
    *delays("HCT", ENABLES, "Y", both=(None, 35), quantity="disable"),
    stated("HC", "power capacitance", typical=31, unit="pF", conditions="each buffer, 540", source=ST),
    *bus_driver_currents("Y"),
)

entry = Entry(
    number="541",
    title="octal three-state buffer, inputs opposite to outputs",
    kind="buffer",
    families=("LS", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(("A", numbered("A", 8)), ("Y", numbered("Y", 8))),
    behaviour=behaviour,
    figures=figures,
)
