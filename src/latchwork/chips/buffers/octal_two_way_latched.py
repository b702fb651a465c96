"""Octal two-way bus buffer with a latch for each way.

What it does
    Each way has a latch, an enable of its own and an output enable. From A to B: while /CEAB and /LEAB are low the
    latch follows A, else it holds; while /CEAB and /OEAB are low it is shown on B. From B to A the same with /CEBA,
    /LEBA and /OEBA.

Pins
    543: /LEBA 1, /OEBA 2, A1 to A8 3 to 10, /CEAB 11, GND 12, /OEAB 13, /LEAB 14, B8 to B1 15 to 22, /CEBA 23, VCC 24;
    rows 300 mil apart. Some makers number A and B from 0, or call the /CE pins /E.

Function table
    =====  =====  =====  ===========  =========
    /CEAB  /LEAB  /OEAB  latch of A   B
    =====  =====  =====  ===========  =========
    H      x      x      holds        off
    L      H      L      holds        latch
    L      L      L      follows A    A
    L      L      H      follows A    off
    L      H      H      holds        off
    =====  =====  =====  ===========  =========

Timing
    Delay from the other side and from the latch enable; enable and disable times from /OE and /CE.

Mistakes people make
    Enabling both ways at once with both latches open: a loop. Leaving a latch enable open.

Sources
    Function, pins and figures from memory (74F543; Philips 74HC/HCT543).
"""

from latchwork.chips.figures import bus_driver_currents, delays, remembered_pulses, remembered_times
from latchwork.chips.pins import dip, numbered
from latchwork.logic import variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, Latch, OutputKind

pins = dip("""
    /LEBA:i /OEBA:i A1:b A2:b A3:b A4:b A5:b A6:b A7:b A8:b /CEAB:i GND
    /OEAB:i /LEAB:i B8:b B7:b B6:b B5:b B4:b B3:b B2:b B1:b /CEBA:i VCC
""")

WAYS = (("A", "B"), ("B", "A"))


def held(start: str, end: str) -> Latch:
    enable = ~(variable(f"CE{start}{end}_n") | variable(f"LE{start}{end}_n"))
    return Latch(f"from_{start}", 8, enable, variable(start, 8))


def shown(start: str, end: str) -> Drive:
    enable = ~(variable(f"CE{start}{end}_n") | variable(f"OE{start}{end}_n"))
    return Drive(end, variable(f"from_{start}", 8), enable, OutputKind.THREE_STATE)


behaviour = Behaviour(
    latches=tuple(held(start, end) for start, end in WAYS), drives=tuple(shown(start, end) for start, end in WAYS)
)


def one_way(start: str, end: str) -> tuple[Figure, ...]:
    """The rows for one direction."""
    latch, chip, out = (f"{name}{start}{end}_n" for name in ("LE", "CE", "OE"))
    return (
        *delays("F", (start,), end, both=(5.5, 8.5)),
        *delays("F", (latch,), end, both=(8.5, 12.5)),
        *delays("F", (chip, out), end, both=(7, 12), quantity="enable"),
        *delays("F", (chip, out), end, both=(6, 10), quantity="disable"),
        *remembered_times("F", "setup", latch, **{start: 3}),
        *remembered_times("F", "hold", latch, **{start: 3}),
        *remembered_pulses("F", **{latch: 4}),
        *delays("HCT", (start,), end, both=(None, 36)),
        *delays("HCT", (latch,), end, both=(None, 40)),
        *delays("HCT", (chip, out), end, both=(None, 40), quantity="enable"),
        *delays("HCT", (chip, out), end, both=(None, 40), quantity="disable"),
        *(row for row in bus_driver_currents(end) if row.family == "HCT"),
    )


entry = Entry(
    number="543",
    title="octal two-way bus buffer with latches",
    kind="buffer",
    families=("F", "HC", "HCT", "ACT", "LVC"),
    pins=pins,
    vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
    behaviour=behaviour,
    figures=tuple(row for start, end in WAYS for row in one_way(start, end)),
)
