"""An input is left open.

What it finds
    Inputs, control and enable inputs among them, that are joined to nothing, and two-way pins whose level a
    chip can come to use. Outputs may stay open. An input of a bipolar family (standard TTL, LS, ALS, S, F) that
    is marked OPEN on purpose is let pass; one of a CMOS family or a memory never is.

Why it matters
    An open CMOS input takes any level, changes it when a hand comes near, and between the levels makes the chip
    draw far more current than it should. An open bipolar input reads high, with little margin against noise.

Example
    A register whose enable was forgotten::

        m.chip("74HCT377", CLK=clock, D=data, Q=held)        # where is G_n?

What to do
    Join the input to its net, or tie it: G_n=LOW, P=[LOW] * 4. A high level of a bipolar input that is meant is
    written OPEN, or better HIGH. A two-way pin drives at times and must not meet a rail: join it to a net with a
    pull, m.bus("unused", 8, idle=pull_up("10k")).

Sources
    CMOS: Texas Instruments SCBA004, Implications of Slow or Floating CMOS Inputs, section 1. Bipolar inputs
    read high: common practice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from latchwork.model import Model
from latchwork.netlist import ChipId, Netlist, PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import chip_name
from latchwork.parts import Direction
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.unused_gates import pins_of_unused
from latchwork.tools.rules.wording import chip_label, listed, pins_in_words

CODE = "W101"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    for chip in range(len(model.netlist.chips)):
        pins = open_inputs(facts, chip)
        if pins:
            yield _problem(facts, chip, pins)


def open_inputs(facts: Facts, chip: ChipId) -> list[int]:
    """Pins that should not be open, those of unused gates aside."""
    floats, this = facts.wiring.floats(chip), facts.netlist.chips[chip]
    allowed = set(pins_of_unused(facts, chip)) | (set() if floats else set(this.left_open))
    return [
        pin for pin, net in enumerate(this.pins) if net == NO_NET and pin not in allowed and _matters(facts, chip, pin)
    ]


def _matters(facts: Facts, chip: ChipId, pin: int) -> bool:
    return facts.reads(PinRef(chip, pin))


def _problem(facts: Facts, chip: ChipId, pins: Iterable[int]) -> Problem:
    netlist, found = facts.netlist, list(pins)
    one = len(found) == 1
    part = netlist.part_of(chip)
    numbers = listed([str(part.pins[pin].number) for pin in found])
    label = chip_label(netlist, chip, f"has {'it' if one else 'them'} at pin{'s' * (not one)} {numbers}")
    what = f"{chip_name(netlist, chip)} has its {_in_words(netlist, chip, found)} open"
    both = _of_direction(netlist, chip, found, Direction.BOTH)
    through = "; a two-way pin, which drives at times, only through a resistor" if both else ""
    if facts.wiring.floats(chip):
        message = f"{what}, where {'it floats' if one else 'they float'}"
        hint = f"join {'it' if one else 'each'} to its net, or tie it HIGH or LOW{through}"
        return Problem(CODE, message, (label,), hint)
    message = f"{what}, which read{'s' * one} high"
    hint = f"join {'it' if one else 'each'} to its net, or tie it{through}; write OPEN where high is meant"
    return Problem(CODE, message, (label,), hint, Severity.WARNING)


def _in_words(netlist: Netlist, chip: ChipId, pins: list[int]) -> str:
    """ "input G_n and two-way pins D0 and D1"."""
    both = _of_direction(netlist, chip, pins, Direction.BOTH)
    inputs = [pin for pin in pins if pin not in both]
    named = [(noun, part) for noun, part in (("input", inputs), ("two-way pin", both)) if part]
    return " and ".join(f"{noun}{'s' * (len(part) != 1)} {pins_in_words(netlist, chip, part)}" for noun, part in named)


def _of_direction(netlist: Netlist, chip: ChipId, pins: list[int], direction: Direction) -> list[int]:
    part = netlist.part_of(chip)
    return [pin for pin in pins if part.pins[pin].direction is direction]
