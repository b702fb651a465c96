"""Hex three-state buffers: two enables for all (365, 366), one for four and one for two (367, 368).

What it does
    365 and 366: six buffers that drive while both /G1 and /G2 are low. 367 and 368: the first four drive while /1G is
    low, the last two while /2G is low. 366 and 368 invert. What is not enabled is off.

Pins
    365, 366: /G1 1, A1 2, Y1 3, A2 4, Y2 5, A3 6, Y3 7, GND 8, Y4 9, A4 10, Y5 11, A5 12, Y6 13, A6 14, /G2 15, VCC 16.
    367, 368: /1G 1, the same six buffers as 1A1 to 1A4 and 2A1 (12), 2A2 (14); /2G 15. The vectors A and Y are the six
    buffers in order; in the 367 and 368 A1, Y1 are the first four and A2, Y2 the last two.

Function table
    ==========  =  ===============  ===============
    enable      A  Y (365, 367)     Y (366, 368)
    ==========  =  ===============  ===============
    active      L  L                H
    active      H  H                L
    not active  x  off              off
    ==========  =  ===============  ===============

Timing
    Delay from A; enable and disable times from the enables.

Mistakes people make
    Taking the 367 for the 365: with the second enable open the last two stay off.

Sources
    Truth tables and LS output currents: Motorola FAST AND LS TTL DATA p.5-516. Typical HC and HCT figures: Philips
    74HC/HCT367, 368 December 1990 p.2; AC and ACT figures: Hitachi HD74AC368/HD74ACT368.
    HC365 and HC366 delays: TI JAJSOX7D. Pins and other figures from
    memory (SN74LS365A to SN74LS368A data sheet SDLS102).
"""

from latchwork.chips.figures import LIGHT, LOADED, Pair, bus_driver_currents, delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind

pins_all = dip("""
    /G1:i A1:i Y1:o A2:i Y2:o A3:i Y3:o GND
    Y4:o A4:i Y5:o A5:i Y6:o A6:i /G2:i VCC
""")
pins_split = dip("""
    /1G:i 1A1:i 1Y1:o 1A2:i 1Y2:o 1A3:i 1Y3:o GND
    1Y4:o 1A4:i 2Y1:o 2A1:i 2Y2:o 2A2:i /2G:i VCC
""")

both_low = ~(variable("G1_n") | variable("G2_n"))
MOTOROLA = "Motorola FAST AND LS TTL DATA p.5-516"
WIDTHS = ((1, 4), (2, 2))


def together(value: Expression) -> Behaviour:
    return Behaviour(drives=(Drive("Y", value, both_low, OutputKind.THREE_STATE),))


def split(inverts: bool) -> Behaviour:
    sides = [(side, variable(f"A{side}", width)) for side, width in WIDTHS]
    return Behaviour(
        drives=tuple(
            Drive(f"Y{side}", ~value if inverts else value, ~variable(f"G{side}_n"), OutputKind.THREE_STATE)
            for side, value in sides
        )
    )


def split_vectors(letter: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The four, the two, and all six."""
    four, two = numbered(f"{letter}1_", 4), numbered(f"{letter}2_", 2)
    return (f"{letter}1", four), (f"{letter}2", two), (letter, four + two)


def figures_of(pairs: tuple[tuple[str, str], ...]) -> tuple[Figure, ...]:
    """``pairs``: each enable with the outputs it turns on."""
    return (
        *delays("LS", "A", "Y", rise=(10, 16), fall=(9, 22)),
        *delays("HC", "A", "Y", both=(None, 21)),
        *delays("HCT", "A", "Y", both=(None, 25)),
        *(
            row
            for enable, end in pairs
            for row in (
                *delays("LS", (enable,), end, rise=(19, 35), fall=(24, 40), quantity="enable"),
                *delays("LS", (enable,), end, both=(None, 35), quantity="disable"),
                *delays("HC", (enable,), end, both=(None, 38), quantity="enable"),
                *delays("HC", (enable,), end, both=(None, 35), quantity="disable"),
                *delays("HCT", (enable,), end, both=(None, 38), quantity="enable"),
                *delays("HCT", (enable,), end, both=(None, 38), quantity="disable"),
            )
        ),
        *(row for row in bus_driver_currents("Y") if row.family != "LS"),
        stated("LS", "output current high", end="Y", unit="mA", maximum=-2.6, source=MOTOROLA),
        stated("LS", "output current low", end="Y", unit="mA", maximum=24, source=MOTOROLA),
    )


PHILIPS = "Philips 74HC/HCT367, 74HC/HCT368 December 1990 p.2"
HITACHI = "Hitachi HD74AC368/HD74ACT368"


def typical(hc: float, hct: float, capacitance: float) -> tuple[Figure, ...]:
    """Quick reference data of the 367 and 368."""
    light = "5 V, 25 degC, 15 pF"
    return (
        *delays("HC", "A", "Y", both=(hc, None), source=PHILIPS, conditions=light),
        *delays("HCT", "A", "Y", both=(hct, None), source=PHILIPS, conditions=light),
        stated("HC", "power capacitance", typical=30, unit="pF", conditions="each buffer", source=PHILIPS),
        stated("HCT", "power capacitance", typical=capacitance, unit="pF", conditions="each buffer", source=PHILIPS),
    )


def advanced(family: str, data: tuple[Pair, Pair], on: tuple[Pair, Pair], off: tuple[Pair, Pair]) -> tuple[Figure, ...]:
    """The AC368 and ACT368: rise and fall from the data, of enabling, and (high, low) of disabling."""
    rows = [("delay", ("A",), "Y", data)]
    for side, _ in WIDTHS:
        rows += [(name, (f"G{side}_n",), f"Y{side}", pairs) for name, pairs in (("enable", on), ("disable", off))]
    return tuple(
        row
        for quantity, starts, end, (rise, fall) in rows
        for row in delays(
            family, starts, end, rise=rise, fall=fall, quantity=quantity, source=HITACHI,
            conditions="5.0 V ± 0.5 V, 25 degC, 50 pF",
        )
    )  # fmt: skip


TEXAS = "TI CD74HC365, CD74HC366 JAJSOX7D, switching characteristics"


def loaded(most: float, usual: float) -> tuple[Figure, ...]:
    """HC delays of the 365 and 366: the longest with 50 pF, and the usual one with 15 pF."""
    return (
        *delays("HC", "A", "Y", both=(None, most), source=TEXAS, conditions=LOADED),
        *delays("HC", "A", "Y", both=(usual, None), source=TEXAS, conditions=LIGHT),
    )


FIGURES_TOGETHER = tuple(
    row for row in figures_of((("G1_n", "Y"), ("G2_n", "Y"))) if (row.family, row.quantity) != ("HC", "delay")
)
FIGURES_SPLIT = figures_of((("G1_n", "Y1"), ("G2_n", "Y2")))

whole = Entry(
    number="365",
    title="hex three-state buffer, two enables for all",
    kind="buffer",
    families=("", "LS", "HC", "HCT"),
    pins=pins_all,
    vectors=(("A", numbered("A", 6)), ("Y", numbered("Y", 6))),
    behaviour=together(variable("A", 6)),
    figures=(*FIGURES_TOGETHER, *loaded(21, 8)),
)
parted = whole.renamed(
    "367",
    title="hex three-state buffer, enables for four and for two",
    pins=pins_split,
    vectors=(*split_vectors("A"), *split_vectors("Y")),
    behaviour=split(inverts=False),
    figures=(*FIGURES_SPLIT, *typical(8, 11, 32)),
)
entries = (
    whole,
    whole.renamed(
        "366",
        title="hex three-state inverting buffer, two enables for all",
        behaviour=together(~variable("A", 6)),
        figures=(*FIGURES_TOGETHER, *loaded(22, 9)),
    ),
    parted,
    parted.renamed(
        "368",
        title="hex three-state inverting buffer, enables for four and for two",
        families=("", "LS", "HC", "HCT", "AC", "ACT"),
        behaviour=split(inverts=True),
        figures=(
            *FIGURES_SPLIT,
            *typical(9, 11, 30),
            *advanced("AC", ((5, 7), (4.5, 7)), ((7, 9.5), (7.5, 10)), ((7.5, 10), (7, 10))),
            *advanced("ACT", ((6.5, 9), (6, 9)), ((8, 10), (8, 12)), ((9, 12), (8.5, 11))),
        ),
    ),
)
