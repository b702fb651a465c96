"""Octal three-state buffers in two halves: inverting (240), one enable active high (241).

What it does
    As the 244: two groups of four. The 240 inverts, with both enables active low. The 241 does not invert; its first
    half drives while /1G is low, its second while 2G is high. A group that is not enabled is off.

Pins
    Those of the 244: /1G 1, then 1A and 2Y pins in turn down the left side (1A1 2, 2Y4 3, ... 2Y1 9); 2A and 1Y up the
    right side (2A1 11, 1Y4 12, ... 1Y1 18); /2G (240) or 2G (241) 19. GND 10, VCC 20. The vectors A and Y take both
    halves as one byte, the first half in the low bits.

Function table
    ==========  =  =========  =========
    enable      A  Y (240)    Y (241)
    ==========  =  =========  =========
    active      L  H          L
    active      H  L          H
    not active  x  off        off
    ==========  =  =========  =========

Timing
    Delay from A; enable and disable times from the enables.

Mistakes people make
    Taking one for the other or for the 244: same pins, other polarity. With the 241, /1G and 2G on one line switch
    between the halves, so that both may drive one bus in turn.

Sources
    Pins and truth tables: Motorola FAST AND LS TTL DATA p.5-387, 5-388; TI SDLS144B. HC240 and HCT240 times:
    TI SCLS128H, SCLS174H. Other figures from memory. Output currents: Fairchild DM74LS245.
"""

from latchwork.chips.buffers.dual_four import HALVES, half_and_whole
from latchwork.chips.buffers.dual_four import pins as pins_240
from latchwork.chips.buffers.dual_four import units as units_240
from latchwork.chips.figures import LOADED, Pair, bus_driver_currents, delays
from latchwork.chips.pins import dip
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind

pins_241 = dip("""
    /1G:i 1A1:i 2Y4:o 1A2:i 2Y3:o 1A3:i 2Y2:o 1A4:i 2Y1:o GND
    2A1:i 1Y4:o 2A2:i 1Y3:o 2A3:i 1Y2:o 2A4:i 1Y1:o 2G:i VCC
""")

behaviour_240 = Behaviour(
    drives=tuple(
        Drive(f"Y{half}", ~variable(f"A{half}", 4), ~variable(f"G{half}_n"), OutputKind.THREE_STATE) for half in HALVES
    )
)
behaviour_241 = Behaviour(
    drives=(
        Drive("Y1", variable("A1", 4), ~variable("G1_n"), OutputKind.THREE_STATE),
        Drive("Y2", variable("A2", 4), variable("G2"), OutputKind.THREE_STATE),
    )
)


def figures_of(first: str, second: str, typical: float, longest: float) -> tuple[Figure, ...]:
    """``first``, ``second``: the enables of the halves; ``typical``, ``longest``: the LS delay from A."""
    pairs = ((first, "Y1"), (second, "Y2")) if first != second else ((first, "Y"),)
    return (
        *delays("LS", "A", "Y", both=(typical, longest)),
        *delays("HC", "A", "Y", both=(9, 20)),
        *delays("HCT", "A", "Y", both=(11, 23)),
        *(
            row
            for enable, end in pairs
            for row in (
                *delays("LS", (enable,), end, rise=(None, 23), fall=(None, 30), quantity="enable"),
                *delays("LS", (enable,), end, both=(None, 25), quantity="disable"),
                *delays("HC", (enable,), end, both=(None, 30), quantity="enable"),
                *delays("HC", (enable,), end, both=(None, 30), quantity="disable"),
                *delays("HCT", (enable,), end, both=(None, 30), quantity="enable"),
                *delays("HCT", (enable,), end, both=(None, 25), quantity="disable"),
            )
        ),
        *bus_driver_currents("Y"),
    )


TEXAS_HC, TEXAS_HCT = "TI SN74HC240 SCLS128H, switching characteristics", "TI SN74HCT240 SCLS174H, the same"


def read_240(family: str, source: str, data: Pair, on: Pair, off: Pair) -> tuple[Figure, ...]:
    """Usual and longest times of the 240 at 4.5 V."""
    rows = (("delay", "A", data), ("enable", "G_n", on), ("disable", "G_n", off))
    return tuple(
        row
        for quantity, start, pair in rows
        for row in delays(family, (start,), "Y", both=pair, quantity=quantity, source=source, conditions=LOADED)
    )


figures_240 = (
    *(
        row
        for row in figures_of("G_n", "G_n", 9, 18)
        if row.family == "LS" or row.quantity not in {"delay", "enable", "disable"}
    ),
    *read_240("HC", TEXAS_HC, (10, 20), (15, 30), (22, 30)),
    *read_240("HCT", TEXAS_HCT, (13, 25), (21, 35), (19, 35)),
)

inverting = Entry(
    number="240",
    title="octal three-state inverting buffer in two halves",
    kind="buffer",
    families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT", "AHC", "AHCT", "LVC"),
    pins=pins_240,
    vectors=(*half_and_whole("A"), *half_and_whole("Y"), ("G_n", ("G1_n", "G2_n"))),
    behaviour=behaviour_240,
    units=units_240,
    figures=figures_240,
)
entries = (
    inverting,
    inverting.renamed(
        "241",
        title="octal three-state buffer in two halves, second enable active high",
        families=("LS", "ALS", "S", "F", "HC", "HCT", "AC", "ACT"),
        pins=pins_241,
        vectors=(*half_and_whole("A"), *half_and_whole("Y")),
        behaviour=behaviour_241,
        units=(),
        figures=figures_of("G1_n", "G2", 12, 18),
    ),
)
