"""All rules, in the order of their codes. A new rule is a file beside this one, its title in errors.py, and its name
in the list below."""

from __future__ import annotations

from types import ModuleType

from latchwork.tools.rules import (
    bare_lamps,
    bare_switches,
    idle_reads,
    joined_outputs,
    late_conditions,
    low_highs,
    meeting_drivers,
    missing_pulls,
    open_inputs,
    overloads,
    possible_meetings,
    supply_pins,
    tied_outputs,
    unblanked_strobes,
    undefined_opcodes,
    undriven_nets,
    unread_nets,
    unused_gates,
    wrong_supplies,
)
from latchwork.tools.rules.errors import TITLES
from latchwork.tools.rules.rule import Rule


def _rule(module: ModuleType) -> Rule:
    return Rule(module.CODE, TITLES[module.CODE], module.SEVERITY, (module.__doc__ or "").strip(), module.check)


RULES = tuple(
    _rule(module)
    for module in (
        open_inputs,
        unused_gates,
        undriven_nets,
        unread_nets,
        missing_pulls,
        supply_pins,
        tied_outputs,
        joined_outputs,
        bare_switches,
        meeting_drivers,
        possible_meetings,
        idle_reads,
        undefined_opcodes,
        late_conditions,
        overloads,
        low_highs,
        bare_lamps,
        wrong_supplies,
        unblanked_strobes,
    )
)
