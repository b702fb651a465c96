"""Octal two-way bus buffers with a register for each way: direction and enable (646), enables for each way (652).

What it does
    Each side has a register: CAB takes A, CBA takes B, at the rising edge and whatever drives. SAB high shows the
    register of A on B, SAB low shows A itself; SBA the same for the other way.
    646: while /G is low, DIR high drives B, DIR low drives A. 652: GAB high drives B, /GBA low drives A.

Pins
    646: CAB 1, SAB 2, DIR 3, A1 to A8 4 to 11, GND 12, B8 to B1 13 to 20, /G 21, SBA 22, CBA 23, VCC 24.
    652: GAB at pin 3 and /GBA at pin 21, the others alike. Rows 300 mil apart. Later sheets say CLKAB, CLKBA,
    OEAB, OEBA.

Function table
    =====  ===  ==========================
    drive  Sxx  shown
    =====  ===  ==========================
    on     L    the other side, at once
    on     H    the register of that side
    off    x    off
    =====  ===  ==========================

Timing
    From the other side, from the clock where the register is shown, from the selector; enable and disable times.

Mistakes people make
    Clocking a register from a side that this part drives itself. Both ways of a 652 driven through at once: a loop.

Sources
    HCT652 figures: Philips 74HCT652 September 1993 p.7; HCT646 clock, pulse and setup: TI SCLS178B p.5. Functions, pins
    and other figures from memory (SN74LS646 data sheet, SN74HC652).
"""

from latchwork.chips.figures import (
    bus_driver_currents,
    delays,
    remembered_pulses,
    remembered_times,
    stated,
)
from latchwork.chips.pins import dip, numbered
from latchwork.logic import Expression, mux, variable
from latchwork.parts import Behaviour, Drive, Entry, Figure, OutputKind, Register, Update

pins_646 = dip("""
    CAB:i SAB:i DIR:i A1:b A2:b A3:b A4:b A5:b A6:b A7:b A8:b GND
    B8:b B7:b B6:b B5:b B4:b B3:b B2:b B1:b /G:i SBA:i CBA:i VCC
""")
pins_652 = dip("""
    CAB:i SAB:i GAB:i A1:b A2:b A3:b A4:b A5:b A6:b A7:b A8:b GND
    B8:b B7:b B6:b B5:b B4:b B3:b B2:b B1:b /GBA:i SBA:i CBA:i VCC
""")

TI = "TI SN74HCT646 SCLS178B p.5"
PHILIPS, USUAL = "Philips 74HCT652 September 1993 p.7", "4.5 V, 50 pF, 25 degC"


def both_ways(drives_a: Expression, drives_b: Expression) -> Behaviour:
    """A register a side, and what each side shows while it is driven."""
    a, b, kept_a, kept_b = variable("A", 8), variable("B", 8), variable("from_A", 8), variable("from_B", 8)
    return Behaviour(
        registers=(
            Register("from_A", 8, (Update(variable("CAB"), a),)),
            Register("from_B", 8, (Update(variable("CBA"), b),)),
        ),
        drives=(
            Drive("A", mux(variable("SBA"), kept_b, b), drives_a, OutputKind.THREE_STATE),
            Drive("B", mux(variable("SAB"), kept_a, a), drives_b, OutputKind.THREE_STATE),
        ),
    )


def one_way(start: str, end: str, controls: tuple[str, ...]) -> tuple[Figure, ...]:
    """The rows for one direction, from memory."""
    clock, selector = f"C{start}{end}", f"S{start}{end}"
    return (
        *delays("LS", (start,), end, both=(12, 20)),
        *delays("LS", (clock,), end, both=(20, 35)),
        *delays("LS", (selector,), end, both=(30, 50)),
        *delays("LS", controls, end, both=(35, 65), quantity="enable"),
        *delays("LS", controls, end, both=(25, 38), quantity="disable"),
        *remembered_times("LS", "setup", clock, **{start: 15}),
        *remembered_times("LS", "hold", clock, **{start: 0}),
        *remembered_pulses("LS", **{clock: 15}),
        *bus_driver_currents(end),
    )


def read_rows(start: str, end: str, control: str) -> tuple[Figure, ...]:
    """The published rows of the HCT652 for one direction."""
    clock = f"C{start}{end}"
    return (
        *delays("HCT", (start,), end, both=(16, 27), source=PHILIPS, conditions=USUAL),
        *delays("HCT", (clock,), end, both=(23, 39), source=PHILIPS, conditions=USUAL),
        *delays("HCT", (f"S{start}{end}",), end, both=(27, 46), source=PHILIPS, conditions=USUAL),
        *delays("HCT", (control,), end, both=(18, 33), quantity="enable", source=PHILIPS, conditions=USUAL),
        *delays("HCT", (control,), end, both=(16, 35), quantity="disable", source=PHILIPS, conditions=USUAL),
        stated("HCT", "pulse width", clock, minimum=16, source=PHILIPS, conditions=USUAL),
        stated("HCT", "setup", start, clock, minimum=10, source=PHILIPS, conditions=USUAL),
        stated("HCT", "hold", start, clock, minimum=5, source=PHILIPS, conditions=USUAL),
        stated("HCT", "maximum clock", clock, minimum=30, typical=83, unit="MHz", source=PHILIPS, conditions="4.5 V"),
    )


def clocked(start: str, end: str) -> tuple[Figure, ...]:
    """What the register of one way of the HCT646 asks for."""
    clock = f"C{start}{end}"
    return (
        stated("HCT", "maximum clock", clock, minimum=31, unit="MHz", source=TI, conditions="4.5 V, 25 degC"),
        stated("HCT", "pulse width", clock, minimum=16, source=TI, conditions="4.5 V, 25 degC"),
        stated("HCT", "setup", start, clock, minimum=20, source=TI, conditions="4.5 V, 25 degC"),
    )


figures_646 = (
    *one_way("A", "B", ("G_n", "DIR")),
    *one_way("B", "A", ("G_n", "DIR")),
    *clocked("A", "B"),
    *clocked("B", "A"),
)
figures_652 = (
    *one_way("A", "B", ("GAB",)),
    *one_way("B", "A", ("GBA_n",)),
    *read_rows("A", "B", "GAB"),
    *read_rows("B", "A", "GBA_n"),
)

on, a_to_b = ~variable("G_n"), variable("DIR")

by_direction = Entry(
    number="646",
    title="octal two-way bus buffer with registers, direction and enable",
    kind="buffer",
    families=("LS", "ALS", "F", "HC", "HCT", "ACT", "LVC"),
    pins=pins_646,
    vectors=(("A", numbered("A", 8)), ("B", numbered("B", 8))),
    behaviour=both_ways(on & ~a_to_b, on & a_to_b),
    figures=figures_646,
)
entries = (
    by_direction,
    by_direction.renamed(
        "652",
        title="octal two-way bus buffer with registers, enables for each way",
        pins=pins_652,
        behaviour=both_ways(~variable("GBA_n"), variable("GAB")),
        figures=figures_652,
    ),
)
