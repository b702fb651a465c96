"""An output is tied to a rail.

What it finds
    An output, or a two-way pin that can come to drive, on the net of a rail. The pins of a memory that is never
    shown, or of a buffer whose direction is fixed, may be tied.

Why it matters
    When the output takes the other level it shorts the supply through its transistor.

Example
    Unused data pins of a ROM tied like inputs::

        m.chip("28C16", A=address, D=[*low_half, LOW, LOW, LOW, LOW], CE_n=LOW, OE_n=LOW, WE_n=HIGH)

What to do
    Leave the pin OPEN.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.queries import chip_name
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import chip_label, pins_in_words

CODE = "W107"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    netlist = model.netlist
    for rail in (netlist.low, netlist.high):
        tied: dict[ChipId, set[int]] = {}
        for driver in facts.live_drivers[rail]:
            tied.setdefault(driver.chip, set()).add(driver.pin)
        for chip, pins in tied.items():
            yield _problem(facts, chip, sorted(pins), rail)


def _problem(facts: Facts, chip: ChipId, pins: list[int], rail: NetId) -> Problem:
    netlist, one = facts.netlist, len(pins) == 1
    names = pins_in_words(netlist, chip, pins)
    what = f"the output {names}" if one else f"the outputs {names}"
    message = f"{chip_name(netlist, chip)} has {what} tied to {netlist.nets[rail].name}"
    label = chip_label(netlist, chip, f"drives {'it' if one else 'them'}")
    return Problem(CODE, message, (label,), f"leave {'it' if one else 'them'} OPEN")
