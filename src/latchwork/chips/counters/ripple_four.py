"""Four-bit ripple counters in two sections: decade (90), divide by twelve (92), binary (93).

What it does
    The first section, QA, toggles at each falling edge of CKA. The second, QB to QD, steps at each falling edge of
    CKB: through five states (90), six (92) or eight (93). QA joined to CKB outside makes ten, twelve or sixteen.
    Both R0 inputs high clear; both R9 inputs of the 90 high set nine, whatever R0 is.

Pins
    90: CKB 1, R01 2, R02 3, NC 4, VCC 5, R91 6, R92 7, QC 8, QB 9, GND 10, QD 11, QA 12, NC 13, CKA 14.
    92: CKB 1, NC 2 to 4, VCC 5, R01 6, R02 7, QD 8, QC 9, GND 10, QB 11, QA 12, NC 13, CKA 14.
    93: CKB 1, R01 2, R02 3, NC 4, VCC 5, NC 6 and 7, QC 8, QB 9, GND 10, QD 11, QA 12, NC 13, CKA 14.
    Supply and ground are not at the corners. The vector Q is QA, QB, QC, QD, lowest first.

Function table
    ====  ====  ====  ====  ==========
    R01   R02   R91   R92   Q
    ====  ====  ====  ====  ==========
    x     x     H     H     9 (90)
    H     H     L     x     0
    H     H     x     L     0
    L     x     L     x     counts
    x     L     x     L     counts
    ====  ====  ====  ====  ==========
    The second section, written as QD QC QB: 90 0 1 2 3 4; 92 0 1 2 4 5 6, so that QD is a half; 93 0 to 7.

Timing
    A ripple: QD settles only after the sections before it. Decoded outputs show false states on the way.

Mistakes people make
    Supply and ground at the usual corners. Forgetting the wire from QA to CKB. Leaving R0 or R9 open: TTL reads them
    high, and the counter stands still. Using decoded ripple outputs as clocks.

Sources
    Modes and count sequences: Motorola FAST AND LS TTL DATA p.5-92. LS90 and LS93 figures: National DM74LS90, DM74LS93.
    Pins and other figures from memory. Steps out of states that do not occur follow the flip-flops of the sheet's
    diagram, from memory.
"""

from latchwork.chips.figures import delays, remembered_pulses, stated
from latchwork.chips.pins import dip
from latchwork.logic import Expression, all_of, case, concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Level, Register, Update

pins_90 = dip("""
    CKB:i R0(1)=R01:i R0(2)=R02:i NC=NC4:n VCC R9(1)=R91:i R9(2)=R92:i
    QC:o QB:o GND QD:o QA:o NC=NC13:n CKA:i
""")
pins_92 = dip("""
    CKB:i NC=NC2:n NC=NC3:n NC=NC4:n VCC R0(1)=R01:i R0(2)=R02:i
    QD:o QC:o GND QB:o QA:o NC=NC13:n CKA:i
""")
pins_93 = dip("""
    CKB:i R0(1)=R01:i R0(2)=R02:i NC=NC4:n VCC NC=NC6:n NC=NC7:n
    QC:o QB:o GND QD:o QA:o NC=NC13:n CKA:i
""")

first, rest = variable("first"), variable("rest", 3)
clear, nine = all_of(variable("R01"), variable("R02")), all_of(variable("R91"), variable("R92"))

FIVE = {0: 1, 1: 2, 2: 3, 3: 4, 4: 0, 5: 2, 6: 2, 7: 0}
SIX = {0: 1, 1: 2, 2: 4, 3: 4, 4: 5, 5: 6, 6: 0, 7: 0}


def steps(following: dict[int, int], state: Expression = rest) -> Expression:
    """The next state of a section from a list of all its states."""
    return case(state, {now: constant(then, 3) for now, then in following.items()}, constant(0, 3))


def two_sections(following: Expression, sets_nine: bool = False) -> Behaviour:
    """A toggling bit and three bits that step to ``following``, each with its own falling clock."""
    to_nine = [(Level(nine, constant(1)), Level(nine, constant(4, 3)))] if sets_nine else []
    levels = [*to_nine, (Level(clear, constant(0)), Level(clear, constant(0, 3)))]
    return Behaviour(
        registers=(
            Register("first", 1, (Update(~variable("CKA"), ~first),), tuple(low for low, _ in levels)),
            Register("rest", 3, (Update(~variable("CKB"), following),), tuple(high for _, high in levels)),
        ),
        drives=(Drive("Q", concat(first, rest)),),
    )


NATIONAL = "National DM74LS90, DM74LS93 TL/F/6381, June 1989"
_LOAD = "5 V, 25 degC, 15 pF, 2 kohm"


def longest(end: str, start: str, rise: float, fall: float, source: str = NATIONAL) -> tuple[Figure, ...]:
    """The longest LS delays of both edges."""
    return delays("LS", (start,), end, rise=(None, rise), fall=(None, fall), source=source, conditions=_LOAD)


def read_figures(d: tuple[float, float]) -> tuple[Figure, ...]:
    """What the sheet of the LS90 and LS93 says; ``d``: rise and fall from CKB to QD."""
    return (
        *longest("QA", "CKA", 16, 18),
        *longest("QB", "CKB", 16, 21),
        *longest("QC", "CKB", 32, 35),
        *longest("QD", "CKB", *d),
        *delays("LS", ("R01", "R02"), "Q", fall=(None, 40), source=NATIONAL, conditions=_LOAD),
        stated("LS", "maximum clock", "CKA", minimum=32, unit="MHz", source=NATIONAL, conditions=_LOAD),
        stated("LS", "maximum clock", "CKB", minimum=16, unit="MHz", source=NATIONAL, conditions=_LOAD),
        stated("LS", "supply current", typical=9, maximum=15, unit="mA", source=NATIONAL),
        stated("LS", "input current low", "CKA", maximum=-2.4, unit="mA", source=NATIONAL),
        *remembered_pulses("LS", CKA=15, CKB=30, R01=30, R02=30),
    )


figures_92 = (
    *delays("LS", ("CKA",), "QA", rise=(10, 16), fall=(12, 18)),
    *delays("LS", ("CKB",), "QB", rise=(None, 16), fall=(None, 21)),
    *delays("LS", ("CKB",), "QC", rise=(None, 16), fall=(None, 21)),
    *delays("LS", ("CKB",), "QD", rise=(None, 32), fall=(None, 35)),
    *delays("LS", ("R01", "R02"), "Q", fall=(26, 40)),
    *remembered_pulses("LS", CKA=15, CKB=30, R01=30, R02=30),
)


figures_90 = (
    *read_figures((32, 35)),
    stated("LS", "input current low", "CKB", maximum=-3.2, unit="mA", source=NATIONAL),
    *(row for end in ("QA", "QD") for row in delays("LS", ("R91", "R92"), end, rise=(20, 30))),
    *(row for end in ("QB", "QC") for row in delays("LS", ("R91", "R92"), end, fall=(26, 40))),
)
figures_93 = (
    *read_figures((51, 51)),
    stated("LS", "input current low", "CKB", maximum=-1.6, unit="mA", source=NATIONAL),
    *delays("HC", ("CKA",), "QA", both=(None, 25)),
    *delays("HC", ("CKB",), "QB", both=(None, 27)),
    *delays("HC", ("CKB",), "QC", both=(None, 37)),
    *delays("HC", ("CKB",), "QD", both=(None, 47)),
)

decade = Entry(
    number="90",
    title="decade ripple counter (two and five)",
    kind="counter",
    families=("", "LS"),
    pins=pins_90,
    vectors=(("Q", ("QA", "QB", "QC", "QD")),),
    behaviour=two_sections(steps(FIVE), sets_nine=True),
    figures=figures_90,
)
entries = (
    decade,
    decade.renamed(
        "92",
        title="divide-by-twelve ripple counter (two and six)",
        pins=pins_92,
        behaviour=two_sections(steps(SIX)),
        figures=figures_92,
    ),
    decade.renamed(
        "93",
        title="four-bit binary ripple counter (two and eight)",
        families=("", "LS", "HC", "HCT"),
        pins=pins_93,
        behaviour=two_sections(rest + 1),
        figures=figures_93,
    ),
)
