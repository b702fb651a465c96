"""Only a switch holds a net.

What it finds
    A net that inputs read, with a switch or button on it, and neither a driver nor a pull or keeper.

Why it matters
    The closed switch gives its level; the open one gives none, and the inputs float (see W101).

Example
    A switch to ground, written as a part::

        m.chip("switch", A=mode, B=LOW)

What to do
    Write m.switch("mode"), which comes with a pull of 10 kilohms, or give the net one: m.net("mode",
    idle=pull_up("10k")).

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import NetId
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, chip_label, first_pins, net_label, nets_in_words

CODE = "W109"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    found = [net for net in range(len(model.netlist.nets)) if _bare(facts, net)]
    for nets in bus_groups(model.netlist, found):
        yield _problem(facts, nets)


def _bare(facts: Facts, net: NetId) -> bool:
    held = facts.wiring.holders[net]
    if net in facts.wiring.levels or facts.live_drivers[net] or held.pulls or held.series or held.keepers:
        return False
    return bool(held.switches and facts.readers[net])


def _problem(facts: Facts, nets: tuple[NetId, ...]) -> Problem:
    netlist = facts.netlist
    several = len(nets) > 1
    message = f"only {'switches hold' if several else 'a switch holds'} {nets_in_words(netlist, nets)}"
    pins = sorted({at for net in nets for at in facts.readers[net]})
    labels = (
        *net_label(netlist, nets[0], "named here"),
        chip_label(netlist, facts.wiring.holders[nets[0]].switches[0][0], "gives no level while it is open"),
        *first_pins(netlist, pins, "reads it"),
    )
    return Problem(CODE, message, labels, "write m.switch(...), which has a pull, or give the net one")
