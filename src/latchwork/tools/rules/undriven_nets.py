"""Nothing drives a net that inputs read.

What it finds
    A net with inputs, and with no output that can ever act on it, no pull, no keeper and no switch. A two-way
    pin counts as a driver only where its chip can come to drive, and never as the driver of what the same pin
    reads.

Why it matters
    The inputs float (see W101), and what was meant to reach them does not. It is mostly a wire that was
    forgotten, or a name written in two ways.

Example
    The flag is read and never made::

        carry = m.net("carry")
        m.chip("74HCT377", CLK=clock, G_n=LOW, D=[carry, *rest], Q=held)

What to do
    Join the output that should make it. If a person sets it, write m.switch(...); if it is constant, use HIGH
    or LOW.

Sources
    Texas Instruments SCBA004, Implications of Slow or Floating CMOS Inputs, section 1.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.parts import Direction
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, first_pins, net_label, nets_in_words

CODE = "W103"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    bare = {net: left_alone(facts, net) for net in range(len(model.netlist.nets)) if not _held(facts, net)}
    for nets in bus_groups(model.netlist, [net for net, pins in bare.items() if pins]):
        yield _problem(facts, nets, sorted({pin for net in nets for pin in bare[net]}))


def _held(facts: Facts, net: NetId) -> bool:
    held = facts.wiring.holders[net]
    known = net in facts.wiring.levels or net in facts.driven_by_devices
    return known or bool(held.pulls or held.series or held.switches or held.keepers)


def left_alone(facts: Facts, net: NetId) -> list[PinRef]:
    """The readers of a net that no driver can ever reach."""
    drivers = facts.live_drivers[net]
    return [
        at
        for at in facts.readers[net]
        if not any(driver.chip != at.chip or not _both_ways(facts, at) for driver in drivers)
    ]


def _both_ways(facts: Facts, at: PinRef) -> bool:
    return facts.netlist.part_of(at.chip).pins[at.pin].direction is Direction.BOTH


def _problem(facts: Facts, nets: tuple[NetId, ...], pins: list[PinRef]) -> Problem:
    netlist, dead = facts.netlist, [item for net in nets for item in facts.wiring.drivers[net]]
    message = f"nothing drives {nets_in_words(netlist, nets)}, which inputs read"
    own = {at.chip for at in pins}
    never = sorted({PinRef(item.chip, item.pin) for item in dead if item.chip not in own})
    labels = (
        *net_label(netlist, nets[0], "the net" if len(nets) == 1 else "the nets"),
        *first_pins(netlist, pins, "reads it"),
        *first_pins(netlist, never, "could drive it and is never enabled"),
    )
    return Problem(CODE, message, labels, "join the output that makes it, a switch, or a rail")
