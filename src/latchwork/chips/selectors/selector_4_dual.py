"""Dual four-input selector with common select inputs.

What it does
    In each half Y shows the input whose number stands on B, A; it is low while the half's /G is high.

Pins
    153: /1G 1, B 2, 1C3 to 1C0 3 to 6, 1Y 7, GND 8, 2Y 9, 2C0 to 2C3 10 to 13, A 14, /2G 15, VCC 16.
    Vectors: S is A, B, lowest first; C1 is C1_0 .. C1_3; C2 is C2_0 .. C2_3.

Function table
    ==  =======
    /G  Y
    ==  =======
    H   L
    L   C[S]
    ==  =======

Timing
    Longer from the select inputs than from the data.

Mistakes people make
    Expecting a three-state output while /G is high; the 253 has one.

Sources
    Fairchild DM74LS153 DS006393; HD74LS153 REJ03D0439 (function, pins).
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered, stated
from latchwork.chips.pins import dip
from latchwork.logic import case, variable
from latchwork.parts import Behaviour, Drive, Entry, Unit

pins = dip("/1G:i B:i 1C3:i 1C2:i 1C1:i 1C0:i 1Y:o GND 2Y:o 2C0:i 2C1:i 2C2:i 2C3:i A:i /2G:i VCC")


def half(number: int) -> Drive:
    data = variable(f"C{number}", 4)
    chosen = case(variable("S", 2), {key: data[key] for key in range(3)}, data[3])
    return Drive(f"Y{number}", chosen & ~variable(f"G{number}_n"))


behaviour = Behaviour(drives=(half(1), half(2)))
units = tuple(Unit(str(n), (("G_n", f"G{n}_n"), ("S", "S"), ("C", f"C{n}"), ("Y", f"Y{n}"))) for n in (1, 2))

_TI = "TI CD74HC153/HCT153 p.5 (column order reconstructed)"

figures = tuple(
    figure
    for n in (1, 2)
    for figure in (
        remembered("LS", "delay", f"C{n}", f"Y{n}", edge="rise", maximum=15, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", f"C{n}", f"Y{n}", edge="fall", maximum=26, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", "S", f"Y{n}", edge="rise", maximum=29, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", "S", f"Y{n}", edge="fall", maximum=38, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", f"G{n}_n", f"Y{n}", edge="rise", maximum=24, conditions=MEMORY_CONDITIONS),
        remembered("LS", "delay", f"G{n}_n", f"Y{n}", edge="fall", maximum=32, conditions=MEMORY_CONDITIONS),
        stated("HC", "delay", f"C{n}", f"Y{n}", maximum=29, conditions="4.5 V, 50 pF, 25 degC", source=_TI),
        remembered("HCT", "delay", f"C{n}", f"Y{n}", maximum=34, conditions=MEMORY_CONDITIONS),
        remembered("HCT", "delay", "S", f"Y{n}", maximum=34, conditions=MEMORY_CONDITIONS),
        stated("HCT", "delay", f"G{n}_n", f"Y{n}", maximum=27, conditions="4.5 V, 50 pF, 25 degC", source=_TI),
    )
)

entry = Entry(
    number="153",
    title="dual four-input selector",
    kind="selector",
    families=("", "LS", "S", "ALS", "F", "HC", "HCT", "AC", "ACT"),
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
