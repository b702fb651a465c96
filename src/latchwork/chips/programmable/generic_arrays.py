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
    From memory (data sheets GAL16V8, GAL20V8, GAL22V10, Lattice Semiconductor, grade -15; ATF16V8, ATF20V8 and ATF22V10
    of Atmel have the same pins and fuses).
"""

from collections.abc import Iterable

from latchwork.chips.figures import remembered
from latchwork.chips.pins import dip
from latchwork.parts import Behaviour, Entry, Figure

_CONDITIONS = "grade -15, 5 V ± 5 %, 0 to 75 degC, 50 pF"


def row(first: int, last: int) -> str:
    """Inputs of a row of pins, as ``dip`` takes them."""
    return " ".join(f"I{pin}:i" for pin in range(first, last + 1))


def both(first: int, last: int) -> str:
    """Macrocells of a row of pins."""
    return " ".join(f"IO{pin}:b" for pin in range(first, last + 1))


def vectors(inputs: Iterable[int], outputs: range) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return (("I", tuple(f"I{pin}" for pin in inputs)), ("IO", tuple(f"IO{pin}" for pin in outputs)))


def _least(quantity: str, start: str, end: str, minimum: float) -> Figure:
    return remembered("", quantity, start, end, minimum=minimum, conditions=_CONDITIONS)


def _most(quantity: str, start: str, end: str, maximum: float) -> Figure:
    return remembered("", quantity, start, end, maximum=maximum, conditions=_CONDITIONS)


def figures(
    delay: float, clocked: float, setup: float, width: float, current: float, sink: float
) -> tuple[Figure, ...]:
    """What the sheets give for a grade: times in ns, currents in mA."""
    return (
        _most("delay", "I", "IO", delay),
        _most("delay", "IO", "IO", delay),
        _most("delay", "I1", "IO", clocked),
        _most("enable", "I", "IO", delay),
        _most("disable", "I", "IO", delay),
        _most("enable", "IO", "IO", delay),
        _most("disable", "IO", "IO", delay),
        _least("setup", "I", "I1", setup),
        _least("setup", "IO", "I1", setup),
        _least("hold", "I", "I1", 0),
        _least("hold", "IO", "I1", 0),
        _least("pulse width", "I1", "", width),
        remembered("", "supply current", maximum=current, unit="mA", conditions=_CONDITIONS),
        remembered("", "supply range", minimum=4.75, maximum=5.25, unit="V"),
        remembered("", "input high", minimum=2.0, unit="V"),
        remembered("", "input low", maximum=0.8, unit="V"),
        remembered("", "output high", minimum=2.4, unit="V", conditions="-3.2 mA"),
        remembered("", "output low", maximum=0.5, unit="V", conditions=f"{sink:g} mA"),
        remembered("", "output current high", maximum=-3.2, unit="mA"),
        remembered("", "output current low", maximum=sink, unit="mA"),
    )


small = Entry(
    number="GAL16V8",
    title="programmable logic, 8 outputs",
    kind="programmable",
    families=("",),
    pins=dip(f"{row(1, 9)} GND I11:i {both(12, 19)} VCC"),
    behaviour=Behaviour(),
    vectors=vectors((*range(1, 10), 11), range(12, 20)),
    figures=figures(delay=15, clocked=10, setup=12, width=8, current=90, sink=24),
)
entries = (
    small,
    small.renamed(
        "GAL20V8",
        title="programmable logic, 8 outputs, 14 inputs",
        pins=dip(f"{row(1, 11)} GND {row(13, 14)} {both(15, 22)} I23:i VCC"),
        vectors=vectors((*range(1, 12), 13, 14, 23), range(15, 23)),
    ),
    small.renamed(
        "GAL22V10",
        title="programmable logic, 10 outputs with reset",
        pins=dip(f"{row(1, 11)} GND I13:i {both(14, 23)} VCC"),
        vectors=vectors((*range(1, 12), 13), range(14, 24)),
        figures=figures(delay=15, clocked=8, setup=10, width=6, current=130, sink=16),
    ),
)
