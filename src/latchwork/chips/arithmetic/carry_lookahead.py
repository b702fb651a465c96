"""Look-ahead carry generator for four slices.

What it does
    From the carry into the first of four 181 slices and their /P and /G it makes the carries into the other three, and
    /P and /G of all four, for a further level.

Pins
    182: /G1 1, /P1 2, /G0 3, /P0 4, /G3 5, /P3 6, /P 7, GND 8, Cn+z 9, /G 10, Cn+y 11, Cn+x 12, Cn 13, /G2 14, /P2 15,
    VCC 16. Vectors: P is /P0 .. /P3, G is /G0 .. /G3, both active low; C is Cn+x, Cn+y, Cn+z.
    Cn+x is named Cnx, and so on.

Function table
    ======  ===========================================================
    output  condition
    ======  ===========================================================
    Cn+x    high where G0, or P0 and Cn
    Cn+y    high where G1, or P1 and G0, or P1, P0 and Cn
    Cn+z    high where G2, or P2 and G1, or P2, P1, G0, or P2, P1, P0, Cn
    /G      low where G3, or P3 and G2, or P3, P2, G1, or P3, P2, P1, G0
    /P      low where P3, P2, P1 and P0
    ======  ===========================================================
    G0 here stands for "/G0 is low", Cn for "Cn is high", and so on.

Timing
    Two levels of gates from any input to any output.

Mistakes people make
    Inverting the carries between 181 and 182: they fit pin to pin, with active-low and with active-high data alike.
    Expecting Cn+4 of the group: the 182 has none; that of the last slice is right once its Cn is.

Sources
    SN54/74S182 data sheet SDLS206: function tables, pins and figures from memory.
"""

from latchwork.chips.figures import MEMORY_CONDITIONS, remembered
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, all_of, variable
from latchwork.parts import Behaviour, Drive, Entry

pins = dip("""
    /G1:i /P1:i /G0:i /P0:i /G3:i /P3:i /P:o GND
    Cn+z=Cnz:o /G:o Cn+y=Cny:o Cn+x=Cnx:o Cn:i /G2:i /P2:i VCC
""")

generate, propagate, carry = ~variable("G", 4), ~variable("P", 4), variable("Cn")


def carry_after(slice_number: int, carry_in: Expression) -> Expression:
    """The carry that leaves a slice: two levels of gates in the chip, written here as the same chain."""
    before = carry_after(slice_number - 1, carry_in) if slice_number else carry_in
    return generate[slice_number] | (propagate[slice_number] & before)


group_generate = generate[3] | (propagate[3] & (generate[2] | (propagate[2] & carry_after(1, generate[0]))))

behaviour = Behaviour(
    drives=(
        *(Drive(port, carry_after(number, carry)) for number, port in enumerate(("Cnx", "Cny", "Cnz"))),
        Drive("G_n", ~group_generate),
        Drive("P_n", ~all_of(propagate)),
    ),
)

figures = (
    *(
        remembered("S", "delay", start, end, typical=4.5, maximum=7, conditions=MEMORY_CONDITIONS)
        for start in ("P", "G")
        for end in ("Cnx", "Cny", "Cnz")
    ),
    *(remembered("S", "delay", "Cn", end, maximum=10.5) for end in ("Cnx", "Cny", "Cnz")),
    remembered("S", "delay", "P", "G_n", maximum=10.5),
    remembered("S", "delay", "G", "G_n", maximum=10.5),
    remembered("S", "delay", "P", "P_n", maximum=10),
)

entry = Entry(
    number="182",
    title="look-ahead carry generator",
    kind="arithmetic",
    families=("", "S", "F", "HC", "HCT"),
    pins=pins,
    vectors=(
        ("P", numbered("P", 4, first=0, end="_n")),
        ("G", numbered("G", 4, first=0, end="_n")),
        ("C", ("Cnx", "Cny", "Cnz")),
    ),
    behaviour=behaviour,
    figures=figures,
)
