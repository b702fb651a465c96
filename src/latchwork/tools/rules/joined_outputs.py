"""An output that never lets go shares its net.

What it finds
    A net with an ordinary (push-pull) output and another output that can drive it. Outputs that share a net
    must be three-state or open-collector.

Why it matters
    Where one output is high and the other low, they short the supply between them: the net has no level, both
    chips get hot, and the current shakes the rails.

Example
    Two registers on one bus, without buffers between::

        m.chip("74HCT377", CLK=clock, G_n=a_take_n, D=sum, Q=data)
        m.chip("74HCT377", CLK=clock, G_n=b_take_n, D=sum, Q=data)

What to do
    Put a three-state buffer (244, 245, 541) between the output and the net, take a part with three-state
    outputs (574 for 377), or choose with a selector (157, 257). Gates set beside each other for a stronger
    output are reported too.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.netlist.queries import Driver, chip_name
from latchwork.parts import OutputKind
from latchwork.problems import Label, Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, listed, net_label, nets_in_words, pin_label

CODE = "W108"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    groups: dict[tuple[int, ...], list[NetId]] = {}
    for net in range(len(model.netlist.nets)):
        found = facts.live_drivers[net]
        if net not in facts.wiring.levels and len(found) > 1 and any(_pushes(facts, item) for item in found):
            groups.setdefault(tuple(item.chip for item in found), []).append(net)
    for nets in groups.values():
        for group in bus_groups(model.netlist, nets):
            yield _problem(facts, group)


def _pushes(facts: Facts, driver: Driver) -> bool:
    return facts.wiring.kind(driver) is OutputKind.PUSH_PULL


def _problem(facts: Facts, nets: tuple[NetId, ...]) -> Problem:
    netlist, drivers = facts.netlist, facts.live_drivers[nets[0]]
    names = list(dict.fromkeys(chip_name(netlist, driver.chip) for driver in drivers))
    who = f"{listed(names)} drive" if len(names) > 1 else f"several outputs of {names[0]} drive"
    never = [driver for driver in drivers if _pushes(facts, driver)]
    message = f"{who} {nets_in_words(netlist, nets)} at once: {_which(len(never), len(drivers))}"
    labels = (*net_label(netlist, nets[0], "named here"), *(_label(facts, driver, nets[0]) for driver in drivers))
    return Problem(CODE, message, labels, "put a three-state buffer or a selector between")


def _which(never: int, all_of_them: int) -> str:
    if never == all_of_them:
        return "none of them ever lets go"
    return "one of them never lets go" if never == 1 else "some of them never let go"


def _label(facts: Facts, driver: Driver, net: NetId) -> Label:
    does = "always drives" if _pushes(facts, driver) else "can drive"
    return pin_label(facts.netlist, PinRef(driver.chip, driver.pin), f"{does} {facts.netlist.nets[net].name}")
