"""Two ripple counters in one package: decades in two sections (390), four-bit binary (393).

What it does
    390: in each half QA toggles at the falling edge of CKA, and QB to QD step through five states at the falling edge
    of CKB. 393: each half counts 0 to 15 at the falling edge of CLK. CLR high clears a half at once.

Pins
    390: 1CKA 1, 1CLR 2, 1QA 3, 1CKB 4, 1QB to 1QD 5 to 7, GND 8, 2QD to 2QB 9 to 11, 2CKB 12, 2QA 13, 2CLR 14, 2CKA 15,
    VCC 16.
    393: 1CLK 1, 1CLR 2, 1QA to 1QD 3 to 6, GND 7, 2QD to 2QA 8 to 11, 2CLR 12, 2CLK 13, VCC 14. Old sheets call the
    clocks 1A and 2A. Vectors: Q1 and Q2, QA lowest.

Function table
    ===  ====  ============================
    CLR  CLK   Q
    ===  ====  ============================
    H    x     0
    L    fall  next state of the section
    L    rise  held
    ===  ====  ============================

Timing
    A ripple: later stages follow earlier ones.

Mistakes people make
    Expecting the rising edge. Forgetting the wire from QA to CKB of the 390. Decoding outputs while they ripple.

Sources
    LS figures: Motorola FAST AND LS TTL DATA, SN54/74LS390, 393 (QB and QC of the LS393 lie between its QA and QD).
    Functions, pins and other figures from memory (SDLS107, Philips 74HC390 and 74HC393).
"""

from latchwork.chips.counters.ripple_four import FIVE, steps
from latchwork.chips.figures import delays, remembered_pulses, stated
from latchwork.chips.pins import dip
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Level, Register, Unit, Update

pins_390 = dip("""
    1CKA:i 1CLR:i 1QA:o 1CKB:i 1QB:o 1QC:o 1QD:o GND
    2QD:o 2QC:o 2QB:o 2CKB:i 2QA:o 2CLR:i 2CKA:i VCC
""")
pins_393 = dip("1CLK:i 1CLR:i 1QA:o 1QB:o 1QC:o 1QD:o GND 2QD:o 2QC:o 2QB:o 2QA:o 2CLR:i 2CLK:i VCC")

HALVES = (1, 2)


def decade(half: int) -> tuple[Register, Register]:
    clear = variable(f"CLR{half}")
    first, rest = variable(f"first{half}"), variable(f"rest{half}", 3)
    return (
        Register(f"first{half}", 1, (Update(~variable(f"CKA{half}"), ~first),), (Level(clear, constant(0)),)),
        Register(
            f"rest{half}", 3, (Update(~variable(f"CKB{half}"), steps(FIVE, rest)),), (Level(clear, constant(0, 3)),)
        ),
    )


def binary(half: int) -> Register:
    count = variable(f"count{half}", 4)
    clear = Level(variable(f"CLR{half}"), constant(0, 4))
    return Register(f"count{half}", 4, (Update(~variable(f"CLK{half}"), count + 1),), (clear,))


behaviour_390 = Behaviour(
    registers=tuple(register for half in HALVES for register in decade(half)),
    drives=tuple(Drive(f"Q{half}", concat(variable(f"first{half}"), variable(f"rest{half}", 3))) for half in HALVES),
)
behaviour_393 = Behaviour(
    registers=tuple(binary(half) for half in HALVES),
    drives=tuple(Drive(f"Q{half}", variable(f"count{half}", 4)) for half in HALVES),
)


def rows_390(family: str, stages: tuple[float, ...], clear: float) -> tuple[Figure, ...]:
    """The longest delays of one family, for both halves; ``stages``: to QA, QB, QC, QD from their clocks."""
    return tuple(
        row
        for half in HALVES
        for letter, most in zip("ABCD", stages, strict=True)
        for row in delays(family, (f"CK{'A' if letter == 'A' else 'B'}{half}",), f"Q{letter}{half}", both=(None, most))
    ) + tuple(row for half in HALVES for row in delays(family, (f"CLR{half}",), f"Q{half}", fall=(None, clear)))


def rows_393(family: str, first: float, stage: float, clear: float) -> tuple[Figure, ...]:
    """The first stage, and so much more for each stage after it."""
    return tuple(
        row
        for half in HALVES
        for place, letter in enumerate("ABCD")
        for row in delays(family, (f"CLK{half}",), f"Q{letter}{half}", both=(None, first + place * stage))
    ) + tuple(row for half in HALVES for row in delays(family, (f"CLR{half}",), f"Q{half}", fall=(None, clear)))


MOTOROLA = "Motorola FAST AND LS TTL DATA, SN54/74LS390, SN54/74LS393"
_LOAD = "5 V, 25 degC, 15 pF"


def read_rows(paths: tuple[tuple[str, str, tuple[float, float], tuple[float, float]], ...]) -> tuple[Figure, ...]:
    """LS rows for both halves; ``paths``: start, end, (typical, maximum) of rise and of fall."""
    return tuple(
        row
        for half in HALVES
        for start, end, rise, fall in paths
        for row in delays(
            "LS", (f"{start}{half}",), f"{end}{half}", rise=rise, fall=fall, source=MOTOROLA, conditions=_LOAD
        )
    ) + tuple(
        row
        for half in HALVES
        for row in (
            *delays("LS", (f"CLR{half}",), f"Q{half}", fall=(24, 39), source=MOTOROLA, conditions=_LOAD),
            *remembered_pulses("LS", **{f"CLR{half}": 20}),
        )
    )


SUPPLY = stated("LS", "supply current", maximum=26, unit="mA", source=MOTOROLA)


def clock_rate(start: str, least: float, usual: float | None = None) -> Figure:
    return stated("LS", "maximum clock", start, minimum=least, typical=usual, unit="MHz", source=MOTOROLA)


def halves(*names: str) -> tuple[Unit, ...]:
    return tuple(Unit(str(half), tuple((name, f"{name}{half}") for name in names)) for half in HALVES)


dual_decade = Entry(
    number="390",
    title="dual decade ripple counter",
    kind="counter",
    families=("", "LS", "HC", "HCT"),
    pins=pins_390,
    vectors=tuple((f"Q{half}", tuple(f"Q{letter}{half}" for letter in "ABCD")) for half in HALVES),
    behaviour=behaviour_390,
    units=halves("CKA", "CKB", "CLR", "Q"),
    figures=(
        *read_rows(
            (
                ("CKA", "QA", (12, 20), (13, 20)),
                ("CKB", "QB", (13, 21), (14, 21)),
                ("CKB", "QC", (24, 39), (26, 39)),
                ("CKB", "QD", (13, 21), (14, 21)),
            )
        ),
        SUPPLY,
        *remembered_pulses("LS", CKA1=20, CKB1=40),
        clock_rate("CKA1", 25, 35),
        clock_rate("CKB1", 20),
        *rows_390("HC", (29, 31, 46, 31), clear=33),
    ),
)
entries = (
    dual_decade,
    dual_decade.renamed(
        "393",
        title="dual four-bit binary ripple counter",
        pins=pins_393,
        behaviour=behaviour_393,
        units=halves("CLK", "CLR", "Q"),
        figures=(
            *read_rows((("CLK", "QA", (12, 20), (13, 20)), ("CLK", "QD", (40, 60), (40, 60)))),
            *(
                row
                for half in HALVES
                for letter, most in (("B", 33), ("C", 47))
                for row in delays("LS", (f"CLK{half}",), f"Q{letter}{half}", both=(None, most))
            ),
            SUPPLY,
            *remembered_pulses("LS", CLK1=20),
            clock_rate("CLK1", 25, 35),
            *rows_393("HC", 25, 9, 28),
        ),
    ),
)
