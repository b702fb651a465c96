"""An unused gate has open inputs.

What it finds
    A package of several gates in which nothing looks at the output of a gate and all inputs of it are open.

Why it matters
    A CMOS gate whose inputs float draws current and can oscillate, which disturbs its neighbours in the package.

Example
    Two of four gates are joined, the other two left as they came::

        m.chip("74HCT00", A1=a, B1=b, Y1=x, A2=c, B2=d, Y2=y)

What to do
    Tie the inputs: A3=LOW, B3=LOW. With m.gate("nand", a, b) Latchwork packs the gates and ties what is left over.

Sources
    Texas Instruments SCBA004, Implications of Slow or Floating CMOS Inputs, section 1.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import chip_name
from latchwork.parts import Direction, Unit
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import chip_label, listed, pins_in_words

CODE = "W102"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    for chip in range(len(model.netlist.chips)):
        units = [unit for unit in unused_units(facts, chip) if not _on_purpose(facts, chip, unit)]
        if units:
            yield _problem(facts, chip, units)


def unused_units(facts: Facts, chip: ChipId) -> list[Unit]:
    """Gates of a package with all inputs open and an output that nobody reads."""
    return [unit for unit in facts.netlist.part_of(chip).units if _unused(facts, chip, unit)]


def pins_of_unused(facts: Facts, chip: ChipId) -> list[int]:
    """The inputs of unused gates."""
    return [pin for unit in unused_units(facts, chip) for pin in _pins(facts, chip, unit, Direction.INPUT)]


def _unused(facts: Facts, chip: ChipId, unit: Unit) -> bool:
    pins = facts.netlist.chips[chip].pins
    inputs, outputs = (_pins(facts, chip, unit, way) for way in (Direction.INPUT, Direction.OUTPUT))
    unread = all(pins[pin] == NO_NET or not facts.readers[pins[pin]] for pin in outputs)
    return bool(inputs) and unread and all(pins[pin] == NO_NET for pin in inputs)


def _pins(facts: Facts, chip: ChipId, unit: Unit, direction: Direction) -> list[int]:
    part = facts.netlist.part_of(chip)
    return [pin for _, port in unit.ports for pin in part.ports[port] if part.pins[pin].direction is direction]


def _on_purpose(facts: Facts, chip: ChipId, unit: Unit) -> bool:
    """Open inputs of a bipolar gate that the builder has marked so."""
    marked = facts.netlist.chips[chip].left_open
    return not facts.wiring.floats(chip) and set(_pins(facts, chip, unit, Direction.INPUT)) <= set(marked)


def _problem(facts: Facts, chip: ChipId, units: list[Unit]) -> Problem:
    netlist, several = facts.netlist, len(units) > 1
    gates = f"gate{'s' * several} {listed([unit.name for unit in units])}"
    message = f"{chip_name(netlist, chip)} has open inputs at {gates}, which nothing uses"
    pins = [pin for unit in units for pin in _pins(facts, chip, unit, Direction.INPUT)]
    label = chip_label(netlist, chip, f"leaves {pins_in_words(netlist, chip, pins)} open")
    severity = Severity.ERROR if facts.wiring.floats(chip) else Severity.WARNING
    return Problem(CODE, message, (label,), "tie the inputs LOW", severity)
