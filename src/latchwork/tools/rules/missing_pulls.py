"""Nothing pulls up an open-collector net.

What it finds
    A net that inputs read and only open-collector (or open-drain) outputs drive, without a resistor to the high
    rail.

Why it matters
    Such an output only pulls low. While all of them let go, nothing makes the net high: bipolar inputs see a
    weak high, CMOS inputs float.

Example
    Two interrupt requests wired together, and no resistor::

        m.chip("74LS03", A1=a, B1=a, Y1=request_n, A2=b, B2=b, Y2=request_n)

What to do
    Give the net a pull when it is named: m.net("request_n", idle=pull_up("4.7k")).

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.parts import OutputKind
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, first_pins, net_label, nets_in_words

CODE = "W105"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    found = [net for net in range(len(model.netlist.nets)) if _needs_pull(facts, net)]
    for nets in bus_groups(model.netlist, found):
        yield _problem(facts, nets)


def _needs_pull(facts: Facts, net: NetId) -> bool:
    held, wiring = facts.wiring.holders[net], facts.wiring
    pulled = any(level for _, level in held.pulls) or bool(held.series)
    kinds = {wiring.kind(driver) for driver in wiring.drivers[net]}
    return kinds == {OutputKind.OPEN_COLLECTOR} and not pulled and bool(facts.readers[net])


def _problem(facts: Facts, nets: tuple[NetId, ...]) -> Problem:
    netlist = facts.netlist
    message = f"nothing pulls up {nets_in_words(netlist, nets)}, which only open-collector outputs drive"
    pins = sorted({PinRef(item.chip, item.pin) for net in nets for item in facts.wiring.drivers[net]})
    labels = (*net_label(netlist, nets[0], "named here"), *first_pins(netlist, pins, "only pulls it low"))
    return Problem(CODE, message, labels, 'give it a pull: idle=pull_up("4.7k")')
