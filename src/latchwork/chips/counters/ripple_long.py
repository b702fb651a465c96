"""Long binary ripple counters: twelve stages (4040), fourteen stages with an oscillator section (4060).

What it does
    Counts at the falling edge of the clock; the reset clears at once. The 4060 has two gates before its counter for
    an oscillator of a crystal, or of resistors and a capacitor; here its input RS is clocked from outside, since the
    loop through those analogue parts is not modelled.

Pins
    4040: Q12 1, Q6 2, Q5 3, Q7 4, Q4 5, Q3 6, Q2 7, GND 8, Q1 9, CLK 10, CLR 11, Q9 12, Q8 13, Q10 14, Q11 15, VCC 16.
    4060: Q12 1, Q13 2, Q14 3, Q6 4, Q5 5, Q7 6, Q4 7, GND 8, CTC 9, RTC 10, RS 11, MR 12, Q9 13, Q8 14, Q10 15, VCC 16;
    Q1 to Q3 and Q11 have no pins. Stages are numbered from 1, as in the 4000 series; some makers number them from 0.
    The vector Q is Q1 to Q12 (4040); Q4 to Q10 and Q12 to Q14 (4060).

Function table
    =====  ====  ==========
    reset  CLK   count
    =====  ====  ==========
    H      x     0
    L      fall  count + 1
    L      rise  held
    =====  ====  ==========
    4060: RTC is low while RS is high and MR low; CTC is the inverse of RTC.

Timing
    A ripple: each stage adds its delay; a comparison with a constant shows false matches on the way.

Mistakes people make
    Reading the outputs with a fast clock before the ripple has ended. Expecting outputs Q1 to Q3 or Q11 of a 4060.
    Pins that are not in the order of the stages.

Sources
    Function and typical figures: Philips 74HC4040; 74HCT4040 Rev. 03 table 1, Philips 74HC/HCT4060 December 1990 p.2.
    Pins of the 4060, and its reset that stops the oscillator: Motorola MC54/74HC4060 p.1. Pins of the 4040 and longest
    delays from memory; the delay of a later stage is that of the first pin plus the delay from stage to stage, times
    the stages between.
"""

from latchwork.chips.figures import LOADED, delays, remembered_pulses, stated
from latchwork.chips.pins import dip, numbered
from latchwork.logic import concat, constant, variable
from latchwork.parts import Behaviour, Confidence, Drive, Entry, Figure, Level, Register, Update

pins_4040 = dip("Q12:o Q6:o Q5:o Q7:o Q4:o Q3:o Q2:o GND Q1:o CLK:i CLR:i Q9:o Q8:o Q10:o Q11:o VCC")
pins_4060 = dip("Q12:o Q13:o Q14:o Q6:o Q5:o Q7:o Q4:o GND CTC:o RTC:o RS:i MR:i Q9:o Q8:o Q10:o VCC")

SHOWN = (4, 5, 6, 7, 8, 9, 10, 12, 13, 14)
gated = variable("RS") & ~variable("MR")
count_12, count_14 = variable("count", 12), variable("count", 14)

behaviour_4040 = Behaviour(
    registers=(
        Register("count", 12, (Update(~variable("CLK"), count_12 + 1),), (Level(variable("CLR"), constant(0, 12)),)),
    ),
    drives=(Drive("Q", count_12),),
)
behaviour_4060 = Behaviour(
    registers=(Register("count", 14, (Update(~gated, count_14 + 1),), (Level(variable("MR"), constant(0, 14)),)),),
    drives=(
        Drive("Q", concat(*(count_14[stage - 1] for stage in SHOWN))),
        Drive("RTC", ~gated),
        Drive("CTC", gated),
    ),
)


def ripple(family: str, clock: str, stages: tuple[int, ...], first: float, stage: float) -> tuple[Figure, ...]:
    """The longest delay to the first stage of ``stages``, and so much more for each stage after it."""
    return tuple(
        row
        for place in stages
        for row in delays(family, (clock,), f"Q{place}", both=(None, first + (place - stages[0]) * stage))
    )


PHILIPS_4040 = "Philips 74HC4040; 74HCT4040 Rev. 03 September 2005 table 1"
PHILIPS_4060 = "Philips 74HC/HCT4060 December 1990 p.2"
_LIGHT = "5 V, 25 degC, 15 pF"


def typical(  # one row a stage, from the two figures of the quick reference data
    family: str, clock: str, stages: tuple[int, ...], first: float, stage: float, *, source: str
) -> tuple[Figure, ...]:
    """The delay to the first pin as published, and those to the others, so much more for each stage between."""
    start, *later = stages
    return (
        stated(family, "delay", clock, f"Q{start}", typical=first, source=source, conditions=_LIGHT),
        *(
            stated(
                family, "delay", clock, f"Q{place}", typical=first + (place - start) * stage, source=source,
                conditions=f"{_LIGHT}; {first} and {stage} for each stage after it", confidence=Confidence.COMPUTED,
            )
            for place in later
        ),
    )  # fmt: skip


def rate(family: str, clock: str, most: float, capacitance: float, source: str) -> tuple[Figure, Figure]:
    """Typical clock and power capacitance."""
    return (
        stated(family, "maximum clock", clock, typical=most, unit="MHz", source=source, conditions=_LIGHT),
        stated(family, "power capacitance", typical=capacitance, unit="pF", source=source),
    )


TEXAS = "TI CD74HC4040 SCHS203E, switching characteristics"


def stage_after(place: int) -> Figure:
    """The longest HC delay to a stage after the first, 15 ns more for each. The stage is that of the CD74HC4024: the
    sheets have the same figures as far as they were read (to Q1, and for a stage at 2 V)."""
    return stated(
        "HC", "delay", "CLK", f"Q{place}", maximum=28 + 15 * (place - 1), confidence=Confidence.ESTIMATE,
        source=f"28 ns ({TEXAS}) and 15 ns for each stage after the first, as TI CD74HC4024 SCHS202D",
        conditions=LOADED,
    )  # fmt: skip


STAGES = tuple(range(1, 13))

long_counter = Entry(
    number="4040",
    title="twelve-stage binary ripple counter",
    kind="counter",
    families=("HC", "HCT"),
    pins=pins_4040,
    vectors=(("Q", numbered("Q", 12)),),
    behaviour=behaviour_4040,
    figures=(
        *typical("HC", "CLK", STAGES, 14, 8, source=PHILIPS_4040),
        *typical("HCT", "CLK", STAGES, 16, 8, source=PHILIPS_4040),
        *rate("HC", "CLK", 90, 20, PHILIPS_4040),
        *rate("HCT", "CLK", 79, 20, PHILIPS_4040),
        *delays("HC", ("CLK",), "Q1", both=(None, 28), source=TEXAS, conditions=LOADED),
        *(stage_after(place) for place in STAGES[1:]),
        *delays("HC", ("CLR",), "Q", fall=(None, 37)),
        *remembered_pulses("HC", CLK=16, CLR=16),
        *ripple("HCT", "CLK", STAGES, 40, 20),
        *delays("HCT", ("CLR",), "Q", fall=(None, 45)),
    ),
)
entries = (
    long_counter,
    long_counter.renamed(
        "4060",
        title="fourteen-stage binary ripple counter with oscillator section",
        pins=pins_4060,
        vectors=(("Q", tuple(f"Q{stage}" for stage in SHOWN)),),
        behaviour=behaviour_4060,
        figures=(
            *typical("HC", "RS", SHOWN, 31, 6, source=PHILIPS_4060),
            *typical("HCT", "RS", SHOWN, 31, 6, source=PHILIPS_4060),
            *delays("HC", ("MR",), "Q", fall=(17, None), source=PHILIPS_4060, conditions=_LIGHT),
            *delays("HCT", ("MR",), "Q", fall=(18, None), source=PHILIPS_4060, conditions=_LIGHT),
            *rate("HC", "RS", 87, 40, PHILIPS_4060),
            *rate("HCT", "RS", 88, 40, PHILIPS_4060),
            *ripple("HC", "RS", SHOWN, 60, 16),
            *delays("HC", ("MR",), "Q", fall=(None, 35)),
            *(row for end in ("RTC", "CTC") for row in delays("HC", ("RS", "MR"), end, both=(None, 40))),
            *remembered_pulses("HC", RS=16, MR=16),
            *ripple("HCT", "RS", SHOWN, 66, 16),
            *delays("HCT", ("MR",), "Q", fall=(None, 44)),
            *(row for end in ("RTC", "CTC") for row in delays("HCT", ("RS", "MR"), end, both=(None, 45))),
        ),
    ),
)
