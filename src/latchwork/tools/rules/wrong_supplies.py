"""A part is not made for this supply.

What it finds
    A part of a family whose supply range does not hold the machine's supply: LVC, made for 3.3 V, on 5 V; TTL, LS or
    HCT on 3.3 V.

Why it matters
    Above its range a chip is damaged; below it, no figure of its sheet holds.

Example
    ::

        m = Machine("wren", family="HCT", supply=5.0)
        m.chip("74LVC245", A=a, B=b, DIR=HIGH, G_n=LOW)

What to do
    Take a family for this supply: HC, HCT, AC, ACT and AHC at 5 V; HC, AC, AHC and LVC at 3.3 V.

Sources
    Supply ranges of the families: the sheets that `latchwork chip` names.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.base.position import NOWHERE
from latchwork.chips.families import FAMILIES, family_of
from latchwork.model import Model
from latchwork.problems import Label, Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import MOST_PLACES, chip_label, counted

CODE = "W304"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    netlist, volts = model.netlist, model.netlist.supply_millivolts / 1000
    wrong: dict[str, list[int]] = {}
    for chip in range(len(netlist.chips)):
        part = netlist.part_of(chip)
        family = family_of(part)
        if family is not None and not family.supply[0] <= volts <= family.supply[1]:
            wrong.setdefault(family.name, []).append(chip)
    for name, chips in wrong.items():
        least, most = FAMILIES[name].supply
        word = name or "standard TTL"
        message = f"the supply is {volts:g} V, and {word} parts are made for {least:g} to {most:g} V"
        labels = [chip_label(netlist, chip, "is one of them") for chip in chips[:MOST_PLACES]]
        if len(chips) > MOST_PLACES:
            labels.append(Label(NOWHERE, f"and {counted(len(chips) - MOST_PLACES, 'more chip')}"))
        yield Problem(CODE, message, tuple(labels), "take a family for this supply, or change the supply", SEVERITY)
