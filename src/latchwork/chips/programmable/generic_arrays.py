"""Programmable logic: 16V8, 20V8, 22V10.

What it does
    Nothing until fuses are set. Then each output is a sum of products of the inputs, or a flip-flop that takes such a
    sum at the rising edge of pin 1. What is in the machine is the device with its fuses: `m.chip("GAL22V10",
    logic="decode.logic")` or `fuses="decode.jed"`; see docs/programmable-logic.md.

Pins
    I1 to I11 (I14, I23) are inputs, IO pins are outputs or inputs; the number is that of the pin. Pin 1 is the clock
    too. Pin 11 of a 16V8 (13 of a 20V8), while low, shows the outputs that are flip-flops.

    ======  ==========  ================  ===============
    device  inputs      outputs           products of each
    ======  ==========  ================  ===============
    16V8    1-9, 11     12-19             7 or 8
    20V8    1-11, 13,   15-22             7 or 8
            14, 23
    22V10   1-11, 13    14-23             8, 10, 12, 14, 16, 16, 14, 12, 10, 8
    ======  ==========  ================  ===============

Function table
    As the fuses say.

Timing
    One delay from any input to any output, whatever the logic; it is counted again for each output that another one is
    made of.

Mistakes people make
    Leaving pin 11 of a 16V8 (13 of a 20V8) open where outputs are flip-flops. Reading pins 15 and 16 (18 and 19) of a
    device in its simple mode, or 12 and 19 (15 and 22) in its complex mode. Asking a 16V8 for a reset, which only the
    22V10 has. Counting on a flip-flop's level at power-up with a slow supply.

Sources
    Times of the 22V10: Lattice Semiconductor, data sheet GAL22V10, AC switching characteristics of the GAL22V10D,
    grade -7. Levels and currents of the 16V8: data sheet GAL16V8D/883, DC characteristics. Pins, and times of the 16V8
    and 20V8 (grade -15), from memory. ATF16V8, ATF20V8 and ATF22V10 of Atmel have the same pins and fuses.
"""

from collections.abc import Iterable, Iterator

from latchwork.chips.figures import remembered, stated
from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry, Figure

_SMALL = "grade -15, 5 V ± 5 %, 0 to 75 degC, 50 pF"
_LARGE = "grade -7, 5 V ± 5 %, 0 to 75 degC, 50 pF"
_TIMES = "Lattice GAL22V10 data sheet, AC switching characteristics p.7, GAL22V10D-7"
_LEVELS = "Lattice GAL16V8D/883 data sheet, DC electrical characteristics p.4"


def row(first: int, last: int) -> str:
    """Inputs of a row of pins, as ``dip`` takes them."""
    return " ".join(f"I{pin}:i" for pin in range(first, last + 1))


def both(first: int, last: int) -> str:
    """Macrocells of a row of pins."""
    return " ".join(f"IO{pin}:b" for pin in range(first, last + 1))


def vectors(inputs: Iterable[int], outputs: range) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return (("I", tuple(f"I{pin}" for pin in inputs)), ("IO", tuple(f"IO{pin}" for pin in outputs)))


def rows_small() -> Iterator[Figure]:
    """Times of the 16V8 and the 20V8."""
    for start in ("I", "IO"):
        for quantity in ("delay", "enable", "disable"):
            yield remembered("", quantity, start, "IO", maximum=15, conditions=_SMALL)
        yield remembered("", "setup", start, "I1", minimum=12, conditions=_SMALL)
        yield remembered("", "hold", start, "I1", minimum=0, conditions=_SMALL)
    yield remembered("", "delay", "I1", "IO", maximum=10, conditions=_SMALL)
    yield remembered("", "pulse width", "I1", minimum=8, conditions=_SMALL)


def rows_large() -> Iterator[Figure]:
    """Times of the 22V10."""
    for start in ("I", "IO"):
        for quantity in ("delay", "enable", "disable"):
            yield stated("", quantity, start, "IO", minimum=1, maximum=7.5, source=_TIMES, conditions=_LARGE)
        yield stated("", "setup", start, "I1", minimum=4.5, source=_TIMES, conditions=_LARGE)
        yield stated("", "hold", start, "I1", minimum=0, source=_TIMES, conditions=_LARGE)
    yield stated("", "delay", "I1", "IO", minimum=1, maximum=4.5, source=_TIMES, conditions=_LARGE)
    yield stated("", "pulse width", "I1", minimum=3, source=_TIMES, conditions=_LARGE)


levels = (
    stated("", "supply range", minimum=4.5, maximum=5.5, unit="V", source=_LEVELS),
    stated("", "supply current", typical=75, maximum=130, unit="mA", source=_LEVELS, conditions="15 MHz"),
    stated("", "input high", minimum=2.0, unit="V", source=_LEVELS),
    stated("", "input low", maximum=0.8, unit="V", source=_LEVELS),
    stated("", "output high", minimum=2.4, unit="V", source=_LEVELS, conditions="-2 mA"),
    stated("", "output low", maximum=0.5, unit="V", source=_LEVELS, conditions="12 mA"),
    stated("", "output current high", maximum=-2, unit="mA", source=_LEVELS),
    stated("", "output current low", maximum=12, unit="mA", source=_LEVELS),
)

small = Entry(
    number="GAL16V8",
    title="programmable logic, 8 outputs",
    kind="programmable",
    families=("",),
    pins=dip(f"{row(1, 9)} GND I11:i {both(12, 19)} VCC"),
    behaviour=Behaviour(),
    vectors=vectors((*range(1, 10), 11), range(12, 20)),
    figures=(*rows_small(), *levels),
)
entries = (
    small,
    small.renamed(
        "GAL20V8",
        title="programmable logic, 8 outputs, 14 inputs",
        pins=dip(f"{row(1, 11)} GND {row(13, 14)} {both(15, 22)} I23:i VCC"),
        vectors=vectors((*range(1, 12), 13, 14, 23), range(15, 23)),
        figures=tuple(rows_small()),
    ),
    small.renamed(
        "GAL22V10",
        title="programmable logic, 10 outputs with reset",
        pins=dip(f"{row(1, 11)} GND I13:i {both(14, 23)} VCC"),
        vectors=vectors((*range(1, 12), 13), range(14, 24)),
        figures=tuple(rows_large()),
    ),
)
