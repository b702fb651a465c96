"""Dual four-input selector with common select inputs and three-state outputs.

What it does
    In each half Y shows the input whose number stands on B, A; it drives nothing while the half's /G is high.

Pins
    As the 153: /1G 1, B 2, 1C3 to 1C0 3 to 6, 1Y 7, GND 8, 2Y 9, 2C0 to 2C3 10 to 13, A 14, /2G 15, VCC 16.
    Vectors: S is A, B, lowest first; C1 is C1_0 .. C1_3; C2 is C2_0 .. C2_3.

Function table
    ==  =======
    /G  Y
    ==  =======
    H   off
    L   C[S]
    ==  =======

Timing
    Longer from the select inputs than from the data; enable and disable times from each /G.

Mistakes people make
    Taking the two halves for one enable each on a shared net: joined outputs need exclusive enables.

Sources
    LS delays from data and select: Renesas HD74LS253 p.3. HC: NXP 74HC253 Rev.5 Table 7. Function and pins as those
    of the 153 but for the outputs; other figures from memory.
"""

from latchwork.chips.figures import delays
from latchwork.chips.selectors.selector_4_dual import pins, units
from latchwork.logic import case, variable
from latchwork.parts import Behaviour, Drive, Entry, OutputKind


def half(number: int) -> Drive:
    data = variable(f"C{number}", 4)
    chosen = case(variable("S", 2), {key: data[key] for key in range(3)}, data[3])
    return Drive(f"Y{number}", chosen, ~variable(f"G{number}_n"), OutputKind.THREE_STATE)


behaviour = Behaviour(drives=(half(1), half(2)))

RENESAS, LIGHT = "Renesas HD74LS253 p.3", "5 V, 25 degC, 15 pF, 2 kohm"
NXP, USUAL = "NXP 74HC253 Rev.5 Table 7", "4.5 V, 50 pF"

figures = tuple(
    figure
    for data, enable, output in (("C1", "G1_n", "Y1"), ("C2", "G2_n", "Y2"))
    for figure in (
        *delays("LS", (data,), output, rise=(17, None), fall=(13, 20), source=RENESAS, conditions=LIGHT),
        *delays("LS", (data,), output, rise=(17, 25)),
        *delays("LS", ("S",), output, rise=(30, 45), fall=(21, 32), source=RENESAS, conditions=LIGHT),
        *delays("LS", (enable,), output, rise=(15, 28), fall=(15, 23), quantity="enable"),
        *delays("LS", (enable,), output, rise=(27, 41), fall=(18, 27), quantity="disable"),
        *delays("HC", (data,), output, both=(20, 35), source=NXP, conditions=USUAL),
        *delays("HC", ("S",), output, both=(21, 35), source=NXP, conditions=USUAL),
        *delays("HC", (enable,), output, both=(11, 20), quantity="enable", source=NXP, conditions="4.5 V"),
        *delays("HC", (enable,), output, both=(15, 30), quantity="disable", source=NXP, conditions="4.5 V"),
    )
)

entry = Entry(
    number="253",
    title="dual four-input selector, three-state",
    kind="selector",
    families=("LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT"),
    pins=pins,
    vectors=(
        ("S", ("A", "B")),
        ("C1", tuple(f"C1_{key}" for key in range(4))),
        ("C2", tuple(f"C2_{key}" for key in range(4))),
    ),
    behaviour=behaviour,
    figures=figures,
    units=units,
)
