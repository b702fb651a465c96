"""Two one-shots: started again by each trigger (123), not disturbed while they run (221).

What it does
    A pulse starts at the fall of A while B and /CLR are high, at the rise of B while A is low and /CLR high, and at the
    rise of /CLR while A is low and B high. /CLR low ends it. A trigger during the pulse starts the time again in the
    123 and has no effect in the 221. The time, which a resistor and a capacitor at RCext and Cext set, is given for
    each half by the chip's parameters ``width1`` and ``width2``, in picoseconds: ``times={"width1": "10u", ...}``.

Pins
    123, 221: 1A 1, 1B 2, /1CLR 3, /1Q 4, 2Q 5, 2Cext 6, 2RCext 7, GND 8, 2A 9, 2B 10, /2CLR 11, /2Q 12, 1Q 13, 1Cext
    14, 1RCext 15, VCC 16.

Function table
    ====  ====  ====  =============
    /CLR  A     B     Q
    ====  ====  ====  =============
    L     x     x     L
    H     L     rise  pulse
    H     fall  H     pulse
    rise  L     H     pulse
    H     H     x     ends its time
    H     x     L     ends its time
    ====  ====  ====  =============

Timing
    The pulse lasts about 0.45 R C (LS123), 0.7 R C (221); a retriggered pulse lasts its time after the last trigger.

Mistakes people make
    Taking the 123 where the 221 is meant. Long wires at RCext. Clearing with A low and B high: the end of the clear
    triggers. One-shots in a clocked design at all: their times drift.

Sources
    74221 figures: TI SDLS213B p.7; LS123 figures: from memory those of the LS122,
    Renesas HD74LS122 p.4. Function table: TI SN74LV123A SCLS393P p.2
    (the same inputs). Pins and other figures from memory (SDLS043).
"""

from latchwork.chips.figures import Pair, delays, remembered_pulses
from latchwork.chips.pins import dip
from latchwork.chips.timing.shots import retriggered, running, undisturbed
from latchwork.logic import Expression, variable
from latchwork.parts import Behaviour, Confidence, Drive, Entry, Figure

pins = dip("""
    1A:i 1B:i /1CLR:i /1Q:o 2Q:o 2Cext:p 2RCext:p GND
    2A:i 2B:i /2CLR:i /2Q:o 1Q:o 1Cext:p 1RCext:p VCC
""")

HALVES = (1, 2)


def trigger(half: int) -> Expression:
    return ~variable(f"A{half}") & variable(f"B{half}") & variable(f"CLR{half}_n")


def reset(half: int) -> Expression:
    return ~variable(f"CLR{half}_n")


drives = tuple(
    drive
    for half in HALVES
    for drive in (
        Drive(f"Q{half}", running(f"shot{half}") & ~reset(half)),
        Drive(f"Q{half}_n", ~(running(f"shot{half}") & ~reset(half))),
    )
)

again = [retriggered(f"shot{half}", trigger(half), reset(half), f"width{half}") for half in HALVES]
alone = [undisturbed(f"shot{half}", trigger(half), reset(half), f"width{half}") for half in HALVES]

behaviour_123 = Behaviour(drives, registers=tuple(cut for cut, _ in again), timers=tuple(timer for _, timer in again))
behaviour_221 = Behaviour(
    drives,
    registers=tuple(register for fire, cut, _ in alone for register in (fire, cut)),
    timers=tuple(timer for _, _, timer in alone),
)


def figures_of(family: str, start: float, end: float, clear: float) -> tuple[Figure, ...]:
    """``start``, ``end``: from a trigger to the first edge at Q and at /Q; ``clear``: from /CLR."""
    rows = (
        row
        for half in HALVES
        for row in (
            *delays(family, (f"A{half}", f"B{half}"), f"Q{half}", rise=(None, start)),
            *delays(family, (f"A{half}", f"B{half}"), f"Q{half}_n", fall=(None, end)),
            *delays(family, (f"CLR{half}_n",), f"Q{half}", fall=(None, clear)),
            *delays(family, (f"CLR{half}_n",), f"Q{half}_n", rise=(None, clear)),
        )
    )
    return (*rows, *remembered_pulses(family, A1=40, B1=40, CLR1_n=40))


def figures_from(
    family: str, times: dict[tuple[str, str], Pair], source: str, confidence: Confidence
) -> tuple[Figure, ...]:
    """``times``: (input, output) -> typical and longest time to the first edge of that output."""
    found: list[Figure] = []
    for half in HALVES:
        for (start, end), pair in times.items():
            rises = (end == "Q#") == (start != "CLR#_n")
            found += delays(
                family, (start.replace("#", str(half)),), end.replace("#", str(half)), source=source,
                rise=pair if rises else None, fall=None if rises else pair, conditions="5 V, 25 degC",
                confidence=confidence,
            )  # fmt: skip
    return tuple(found)


LIKE_122 = "from memory: as Renesas HD74LS122 Rev.2.00 p.4"
LS_123: dict[tuple[str, str], Pair] = {
    ("A#", "Q#"): (23, 33),
    ("A#", "Q#_n"): (32, 45),
    ("B#", "Q#"): (23, 44),
    ("B#", "Q#_n"): (34, 56),
    ("CLR#_n", "Q#"): (20, 27),
    ("CLR#_n", "Q#_n"): (28, 45),
}
TI = "TI SDLS213B p.7"
TTL_221: dict[tuple[str, str], Pair] = {
    ("A#", "Q#"): (45, 70),
    ("A#", "Q#_n"): (50, 80),
    ("B#", "Q#"): (35, 55),
    ("B#", "Q#_n"): (40, 65),
    ("CLR#_n", "Q#"): (None, 27),
    ("CLR#_n", "Q#_n"): (None, 40),
}

again_each_time = Entry(
    number="123",
    title="dual one-shot, started again by each trigger",
    kind="timing",
    families=("", "LS", "HC", "HCT"),
    pins=pins,
    behaviour=behaviour_123,
    figures=(*figures_from("LS", LS_123, LIKE_122, Confidence.MEMORY), *figures_of("HC", 51, 51, 43)),
)
entries = (
    again_each_time,
    again_each_time.renamed(
        "221",
        title="dual one-shot, not disturbed while it runs",
        behaviour=behaviour_221,
        figures=(
            *figures_from("", TTL_221, TI, Confidence.READ),
            *figures_of("LS", 70, 80, 65),
            *figures_of("HC", 44, 44, 36),
        ),
    ),
)
