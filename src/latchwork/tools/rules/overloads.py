"""An output carries more than it may.

What it finds
    A net that inputs read and whose inputs, pulls and lamps together draw more current, while it is high or while
    it is low, than the sheet of an output on it allows. Families may be mixed; each counts with its own currents.

Why it matters
    The level then is no longer the one that the sheet promises: a low one rises, a high one falls, and the inputs
    may read something else. A warm chip or a weak supply makes it happen on some days only.

Example
    An LS output that lights a lamp of 3 mA and feeds an input: it gives 0.4 mA while its level holds::

        m.chip("74LS377", CLK=clock, G_n=LOW, D=data, Q=acc)
        m.lamps(acc)

What to do
    Put a buffer (244, 245, 541) between, hang the lamp on outputs that nothing reads, take a larger resistor, or a
    family with stronger outputs.

Sources
    Output and input currents of the families: the sheets that `latchwork chip` names. Fan-outs of 10 (TTL to TTL),
    20 (LS to LS), 5 (LS to TTL) and 10 (HC to LS) follow from them, as textbooks have it.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.analysis.loading import Load, Loading
from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.netlist.queries import Driver, chip_name
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, first_pins, nets_in_words, pin_label

CODE = "W301"
SEVERITY = Severity.WARNING
LEVELS = ("high", "low")
ROUNDING = 1.0001  # sums of decimal fractions


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    loading = Loading(facts.wiring)
    for nets in bus_groups(model.netlist, range(len(model.netlist.nets))):
        found = [(net, problem) for net in nets for problem in _overload(facts, loading, net)]
        if found:
            yield _problem(facts, [net for net, _ in found], found[0][1])


Overload = tuple[Driver, int, float, float, list[Load]]  # the output, 0 high or 1 low, what it carries, what it may


def _overload(facts: Facts, loading: Loading, net: NetId) -> Iterator[Overload]:
    """The first output that carries too much at one level."""
    if not facts.readers[net]:
        return
    for driver in facts.live_drivers[net]:
        if not loading.known(driver.chip):
            continue
        loads = loading.loads(net, loading.level(facts.netlist.part_of(driver.chip), "output high"))
        others = [load for load in loads if load.at != PinRef(driver.chip, driver.pin)]
        drawn = (sum(load.high for load in others), sum(load.low for load in others))
        for level, (carried, allowed) in enumerate(zip(drawn, loading.allowed(driver), strict=True)):
            gives = level == 1 or allowed > 0
            if gives and allowed * ROUNDING < carried < float("inf"):
                yield driver, level, carried, allowed, others
                return


def _problem(facts: Facts, nets: list[NetId], overload: Overload) -> Problem:
    driver, level, carried, allowed, loads = overload
    netlist, word = facts.netlist, LEVELS[level]
    verb = "give" if level == 0 else "take"
    message = (
        f"{chip_name(netlist, driver.chip)} has to {verb} {carried:.3g} mA while {nets_in_words(netlist, nets)} "
        f"{'is' if len(nets) == 1 else 'are'} {word}, and may {verb} {allowed:.3g} mA"
    )
    heavy = sorted(loads, key=lambda load: -(load.low if level else load.high))
    pins = [load.at for load in heavy if (load.low if level else load.high) > 0]
    at = PinRef(driver.chip, driver.pin)
    labels = (pin_label(netlist, at, "drives it"), *first_pins(netlist, pins[:3], "draws from it"))
    return Problem(CODE, message, labels, "put a buffer between, or lighten the load", SEVERITY)
