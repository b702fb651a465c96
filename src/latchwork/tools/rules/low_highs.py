"""A high level is too low for an input.

What it finds
    An output whose least high level lies below what an input on its net asks for, on a net without a pull-up: TTL or
    LS outputs (2.4 to 2.7 V) into HC or AC inputs (3.15 V at 4.5 V).

Why it matters
    It often works on the bench, because an unloaded LS output reaches about 3.4 V, and stops working when it is warm,
    or when another lamp is lit.

Example
    ::

        m.chip("74LS157", S=choice, G_n=LOW, A=a, B=b, Y=chosen)
        m.chip("74HC377", CLK=clock, G_n=LOW, D=chosen, Q=held)

What to do
    Take HCT or ACT for the part that listens; their inputs have TTL levels. A pull-up of 1 to 4.7 kilohm helps too.

Sources
    Levels of the families: the sheets that `latchwork chip` names (Fairchild DM74LS00 p. 2; ON MC74HC161A p. 4).
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.analysis.loading import Loading
from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.netlist.queries import Driver, chip_name
from latchwork.parts import OutputKind
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, nets_in_words, pin_label

CODE = "W302"
SEVERITY = Severity.WARNING


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    loading = Loading(facts.wiring)
    for nets in bus_groups(model.netlist, range(len(model.netlist.nets))):
        found = [(net, pair) for net in nets for pair in _too_low(facts, loading, net)]
        if found:
            yield _problem(facts, loading, [net for net, _ in found], found[0][1])


def _too_low(facts: Facts, loading: Loading, net: NetId) -> Iterator[tuple[Driver, PinRef]]:
    """The first output and input whose levels do not meet."""
    if any(level for _, level in facts.wiring.holders[net].pulls):
        return
    for driver in facts.live_drivers[net]:
        if facts.wiring.kind(driver) is OutputKind.OPEN_COLLECTOR or not loading.known(driver.chip):
            continue
        given = loading.level(facts.netlist.part_of(driver.chip), "output high")
        for at in facts.readers[net]:
            if at.chip != driver.chip and given < loading.level(facts.netlist.part_of(at.chip), "input high"):
                yield driver, at
                return


def _problem(facts: Facts, loading: Loading, nets: list[NetId], pair: tuple[Driver, PinRef]) -> Problem:
    (driver, at), netlist = pair, facts.netlist
    given = loading.level(netlist.part_of(driver.chip), "output high")
    asked = loading.level(netlist.part_of(at.chip), "input high")
    message = (
        f"{chip_name(netlist, driver.chip)} promises {given:g} V on {nets_in_words(netlist, nets)}, "
        f"and {chip_name(netlist, at.chip)} asks for {asked:g} V"
    )
    labels = (
        pin_label(netlist, PinRef(driver.chip, driver.pin), "drives it"),
        pin_label(netlist, at, "reads it"),
    )
    return Problem(CODE, message, labels, "take HCT or ACT there, or pull the net up", SEVERITY)
