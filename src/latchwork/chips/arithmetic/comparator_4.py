"""Four-bit comparator for greater, equal and less.

What it does
    Compares A and B as numbers. Where they are equal the cascade inputs, which come from the package with the lower
    bits, decide.

Pins
    85: B3 1, A<B in 2, A=B in 3, A>B in 4, A>B 5, A=B 6, A<B 7, GND 8, B0 9, A0 10, B1 11, A1 12, A2 13, B2 14, A3 15,
    VCC 16. The cascade inputs are named LESS_IN, EQUAL_IN, GREATER_IN here, the outputs GREATER, EQUAL, LESS. Vectors:
    A and B, lowest bit first.

Function table
    =======  ==========  ========  =======  =======  =====  ====
    data     GREATER_IN  EQUAL_IN  LESS_IN  GREATER  EQUAL  LESS
    =======  ==========  ========  =======  =======  =====  ====
    A > B    x           x         x        H        L      L
    A < B    x           x         x        L        L      H
    A = B    H           L         L        H        L      L
    A = B    L           L         H        L        L      H
    A = B    x           H         x        L        H      L
    A = B    H           L         H        L        L      L
    A = B    L           L         L        H        L      H
    =======  ==========  ========  =======  =======  =====  ====

Timing
    From data and from the cascade inputs; a chain adds the latter for each package.

Mistakes people make
    Leaving the cascade inputs of the lowest package open: EQUAL_IN must be high, the two others low.

Sources
    Function table: Motorola FAST AND LS TTL DATA p.4-37 (MC54/74F85). F figures: p.4-39 there; LS figures: Renesas
    HD74LS85 p.3. Pins and other figures from memory.
"""

from collections.abc import Iterable

from latchwork.chips.figures import Pair, delays, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure

pins = dip("""
    B3:i A<B=LESS_IN:i A=B=EQUAL_IN:i A>B=GREATER_IN:i A>B=GREATER:o A=B=EQUAL:o A<B=LESS:o GND
    B0:i A0:i B1:i A1:i A2:i B2:i A3:i VCC
""")

a, b = variable("A", 4), variable("B", 4)
greater, less, equal = b.less_than(a), a.less_than(b), a.equals(b)
greater_in, equal_in, less_in = variable("GREATER_IN"), variable("EQUAL_IN"), variable("LESS_IN")

behaviour = Behaviour(
    drives=(
        Drive("GREATER", greater | (equal & ~(less_in | equal_in))),
        Drive("EQUAL", equal & equal_in),
        Drive("LESS", less | (equal & ~(greater_in | equal_in))),
    )
)

CASCADE = {"GREATER": ("LESS_IN", "EQUAL_IN"), "EQUAL": ("EQUAL_IN",), "LESS": ("GREATER_IN", "EQUAL_IN")}

RENESAS, MOTOROLA = "Renesas HD74LS85 Rev.2.00 p.3", "Motorola FAST AND LS TTL DATA p.4-39"
_LS_LOAD, _F_LOAD = "5 V, 25 degC, 15 pF, 2 kohm", "5 V, 25 degC, 50 pF"


def ls(starts: Iterable[str], end: str, rise: Pair, fall: Pair) -> tuple[Figure, ...]:
    return delays("LS", starts, end, rise=rise, fall=fall, source=RENESAS, conditions=_LS_LOAD)


def fast(starts: Iterable[str], end: str, rise: float, fall: float) -> tuple[Figure, ...]:
    return delays("F", starts, end, rise=(None, rise), fall=(None, fall), source=MOTOROLA, conditions=_F_LOAD)


figures = (
    *(row for end in ("GREATER", "LESS") for row in ls("AB", end, (24, 36), (20, 30))),
    *ls("AB", "EQUAL", (27, 45), (23, 45)),
    *(row for end in ("GREATER", "LESS") for row in ls(CASCADE[end], end, (14, 22), (11, 17))),
    *ls(("EQUAL_IN",), "EQUAL", (13, 20), (13, 26)),
    stated("LS", "supply current", typical=10.4, maximum=20, unit="mA", source=RENESAS),
    *(
        row
        for start in ("A", "B", "EQUAL_IN")
        for row in (
            stated("LS", "input current high", start, maximum=60, unit="uA", source=RENESAS),
            stated("LS", "input current low", start, maximum=-1.2, unit="mA", source=RENESAS),
        )
    ),
    *(row for end in ("GREATER", "LESS") for row in fast("AB", end, 11, 14)),
    *fast("AB", "EQUAL", 11.5, 14),
    *fast(CASCADE["GREATER"], "GREATER", 7.5, 9),
    *fast(("EQUAL_IN",), "EQUAL", 7, 10),
    *fast(CASCADE["LESS"], "LESS", 8, 9),
    *(
        row
        for end, cascade in CASCADE.items()
        for row in (
            *delays("HC", "AB", end, both=(None, 39)),
            *delays("HC", cascade, end, both=(None, 31)),
            *delays("HCT", "AB", end, both=(None, 44)),
            *delays("HCT", cascade, end, both=(None, 39)),
        )
    ),
)

entry = Entry(
    number="85",
    title="four-bit magnitude comparator",
    kind="arithmetic",
    families=("", "LS", "S", "F", "HC", "HCT"),
    pins=pins,
    vectors=tuple((letter, numbered(letter, 4, first=0)) for letter in "AB"),
    behaviour=behaviour,
    figures=figures,
)
