"""A lamp has no resistor.

What it finds
    A lamp (light-emitting diode) between a net that an output drives and a rail, with nothing that limits its current.

Why it matters
    The output and the lamp then fight over the level: tens of milliamperes heat both, the level is that of the lamp,
    about 2 V, and inputs on the same net read anything.

Example
    ::

        m.lamp(carry, resistor=None)

What to do
    Leave the resistor in: 1 kilohm lights a lamp of today at 3 mA.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.analysis.loading import Loading
from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, first_pins, nets_in_words, pin_label

CODE = "W303"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    loading = Loading(facts.wiring)
    bare = {net: found for net in range(len(model.netlist.nets)) if (found := _bare(facts, loading, net))}
    for nets in bus_groups(model.netlist, bare):
        yield _problem(facts, nets, bare)


def _bare(facts: Facts, loading: Loading, net: NetId) -> list[PinRef]:
    if not facts.live_drivers[net]:
        return []
    return [load.at for load in loading.loads(net, loading.supply) if float("inf") in (load.high, load.low)]


def _problem(facts: Facts, nets: tuple[NetId, ...], bare: dict[NetId, list[PinRef]]) -> Problem:
    netlist = facts.netlist
    lamps = [at for net in nets for at in bare[net]]
    message = f"nothing limits the current of the lamp on {nets_in_words(netlist, nets)}"
    driver = facts.live_drivers[nets[0]][0]
    labels = (
        *first_pins(netlist, lamps, "has no resistor"),
        pin_label(netlist, PinRef(driver.chip, driver.pin), "feeds it"),
    )
    return Problem(CODE, message, labels, 'put a resistor in series: m.lamp(net, resistor="1k")', SEVERITY)
