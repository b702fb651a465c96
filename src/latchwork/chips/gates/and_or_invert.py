"""Two AND-OR-invert gates, in two arrangements that share the number 51.

What it does
    Each output is low where all inputs of one of its two AND gates are high. In TTL and S all AND gates have two
    inputs; in LS, F and HC those of gate 1 have three.

Pins
    TTL, S: 1A 1, 2A 2, 2B 3, 2C 4, 2D 5, 2Y 6, 1Y 8, 1C 9, 1D 10, 1B 13; 11 and 12 lead nowhere (on the 7450 they
    take an expander). LS, F, HC: 1A 1, 2A to 2D 2 to 5, 2Y 6, 1Y 8, 1D 9, 1E 10, 1F 11, 1B 12, 1C 13. GND 7, VCC 14.

Function table
    ================  ==========================
    output            low where
    ================  ==========================
    1Y (TTL, S)       A and B, or C and D
    1Y (LS, F, HC)    A and B and C, or D and E and F
    2Y                A and B, or C and D
    ================  ==========================

Timing
    One gate delay: the OR costs nothing.

Mistakes people make
    Putting an LS part into a socket wired for the TTL part: the inputs of gate 1 lie elsewhere.

Sources
    LS delays: Motorola FAST AND LS TTL DATA, SN54/74LS51. Function, pins and other delays from memory (SN7451,
    SN74S51).
"""

from latchwork.chips.figures import LIGHT, delays
from latchwork.chips.pins import dip
from latchwork.logic import all_of, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("1A:i 2A:i 2B:i 2C:i 2D:i 2Y:o GND 1Y:o 1C:i 1D:i NC=NC11:n NC=NC12:n 1B:i VCC")
three_input_pins = dip("1A:i 2A:i 2B:i 2C:i 2D:i 2Y:o GND 1Y:o 1D:i 1E:i 1F:i 1B:i 1C:i VCC")


def gate(number: int, *products: str) -> Drive:
    """Low where all inputs of one of ``products`` are high; a letter an input."""
    first, second = (all_of(*(variable(f"{letter}{number}") for letter in product)) for product in products)
    return Drive(f"Y{number}", ~(first | second))


behaviour = Behaviour(drives=(gate(1, "AB", "CD"), gate(2, "AB", "CD")))
three_input_behaviour = Behaviour(drives=(gate(1, "ABC", "DEF"), gate(2, "AB", "CD")))

first_two = tuple(f"{letter}1" for letter in "ABCD")
first_three = tuple(f"{letter}1" for letter in "ABCDEF")
second = tuple(f"{letter}2" for letter in "ABCD")

MOTOROLA = "Motorola FAST AND LS TTL DATA, SN54/74LS51"

figures = (
    *delays("", first_two, "Y1", rise=(13, 22), fall=(8, 15)),
    *delays("", second, "Y2", rise=(13, 22), fall=(8, 15)),
    *delays("S", first_two, "Y1", both=(3.5, 5.5)),
    *delays("S", second, "Y2", both=(3.5, 5.5)),
)

three_input_figures = (
    *delays("LS", first_three, "Y1", rise=(12, 20), fall=(12.5, 20), source=MOTOROLA, conditions=LIGHT),
    *delays("LS", second, "Y2", rise=(12, 20), fall=(12.5, 20), source=MOTOROLA, conditions=LIGHT),
)

two_inputs = Entry(
    number="51",
    title="dual AND-OR-invert gate, two by two inputs",
    kind="gate",
    families=("", "S"),
    pins=pins,
    behaviour=behaviour,
    figures=figures,
)

entries = (
    two_inputs,
    two_inputs.renamed(
        "51",
        title="dual AND-OR-invert gate, two by three and two by two inputs",
        families=("LS", "F", "HC"),
        pins=three_input_pins,
        behaviour=three_input_behaviour,
        figures=three_input_figures,
    ),
)
