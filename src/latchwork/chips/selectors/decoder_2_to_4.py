"""Dual two-to-four decoder.

What it does
    In each half the output whose number stands on B, A goes low while /G is low; the others, and all of them while
    /G is high, are high.

Pins
    139: /1G 1, 1A 2, 1B 3, 1Y0 to 1Y3 4 to 7, GND 8, 2Y3 to 2Y0 9 to 12, 2B 13, 2A 14, /2G 15, VCC 16.
    Vectors: S1 is A1, B1 and S2 is A2, B2, lowest first; Y1 is Y1_0 .. Y1_3, Y2 likewise, active low.

Function table
    ==  =========================
    /G  Y
    ==  =========================
    H   all high
    L   Y[S] low, the others high
    ==  =========================

Timing
    As a 138 half as wide.

Mistakes people make
    Taking both halves to share their select inputs, as the 153 does.

Sources
    SN74LS139A data sheet: function, pins and figures from memory. The function table from memory, checked against an
    integer model.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered
from latchwork.chips.pins import dip
from latchwork.logic import case, constant, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Unit

pins = dip("/1G:i 1A:i 1B:i 1Y0:o 1Y1:o 1Y2:o 1Y3:o GND 2Y3:o 2Y2:o 2Y1:o 2Y0:o 2B:i 2A:i /2G:i VCC")

none = constant(0xF, 4)


def half(number: int) -> Drive:
    chosen = case(variable(f"S{number}", 2), {key: constant(0xF ^ 1 << key, 4) for key in range(4)}, none)
    return Drive(f"Y{number}", mux(variable(f"G{number}_n"), none, chosen))


def rows(number: int) -> tuple[tuple[str, tuple[str, ...]], ...]:
    outputs = tuple(f"Y{number}_{index}" for index in range(4))
    return (f"S{number}", (f"A{number}", f"B{number}")), (f"Y{number}", outputs)


behaviour = Behaviour(drives=(half(1), half(2)))
units = tuple(Unit(str(n), (("G_n", f"G{n}_n"), ("S", f"S{n}"), ("Y", f"Y{n}"))) for n in (1, 2))

figures = tuple(
    figure
    for n in (1, 2)
    for figure in (
        remembered("LS", "delay", f"S{n}", f"Y{n}", edge="rise", maximum=29, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", f"S{n}", f"Y{n}", edge="fall", maximum=38, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", f"G{n}_n", f"Y{n}", edge="rise", maximum=24, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", f"G{n}_n", f"Y{n}", edge="fall", maximum=32, conditions=MEMORY_CONDITIONS),
        remembered("HCT", "delay", f"S{n}", f"Y{n}", maximum=34, conditions=MEMORY_CONDITIONS),
        remembered("HCT", "delay", f"G{n}_n", f"Y{n}", maximum=34, conditions=MEMORY_CONDITIONS),
    )
)

entry = Entry(
    number="139",
    title="dual two-to-four decoder",
    kind="decoder",
    families=("LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins,
    vectors=(*rows(1), *rows(2)),
    behaviour=behaviour,
    figures=figures,
    units=units,
)
