"""A supply pin is not on its rail.

What it finds
    A supply pin (VCC, VDD) that is not on the high rail, or a ground pin (GND, VSS) that is not on the low one.
    Latchwork joins these pins by itself; the rule speaks where machine.py has joined them to something else.

Why it matters
    A chip without supply is fed through its inputs by other chips: it half works, and wrongly. One with its
    supply turned round is dead in a second and hot.

Example
    A pin taken for another::

        m.chip("74HCT138", S=code, VCC=enable, ...)          # G1 was meant

What to do
    Take the pin out of the statement, and join the one that was meant.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import PinRef
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import chip_name
from latchwork.parts import Direction
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import pin_label

CODE = "W106"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    rails = {Direction.SUPPLY: model.netlist.high, Direction.GROUND: model.netlist.low}
    for chip, this in enumerate(model.netlist.chips):
        for pin, net in enumerate(this.pins):
            rail = rails.get(model.netlist.part_of(chip).pins[pin].direction)
            if rail is not None and net != rail:
                yield _problem(facts, PinRef(chip, pin), net, rail)


def _problem(facts: Facts, at: PinRef, net: int, rail: int) -> Problem:
    netlist = facts.netlist
    name, due = netlist.part_of(at.chip).pins[at.pin].name, netlist.nets[rail].name
    where = "open" if net == NO_NET else f"on {netlist.nets[net].name}"
    message = f"{name} of {chip_name(netlist, at.chip)} is {where}, it belongs on {due}"
    return Problem(CODE, message, (pin_label(netlist, at, ""),), f"leave {name} out: Latchwork joins it to its rail")
