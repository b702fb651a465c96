"""Two outputs drive a net in the same step.

What it finds
    Three-state outputs on one net that are both enabled in some step of the microprogram, at some level of the
    clock, with the wiring's decoders, gates and control register between. Bits that the control word does not
    decide (an opcode register, a flag, a switch) are tried in all combinations. In a machine without
    microprogram every combination of everything is tried; two outputs that only meet if the person sets both
    lines by hand are a note.

    Steps count from 0, as the step counter does.

Why it matters
    Where the two differ the net has no level, both outputs carry a short, and the current shakes the supply.

Example
    Two of these in one step::

        acc_show, ram_show, index_take

What to do
    Show one of them in that step. Lines that come from one decoder can't be active together: let the show lines
    of a bus hang on one.

Sources
    Texas Instruments SCBA004, Implications of Slow or Floating CMOS Inputs, section 4 (bus control).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from latchwork.analysis.levels import Leaf
from latchwork.base.position import NOWHERE
from latchwork.model import Model
from latchwork.netlist import PinRef
from latchwork.netlist.queries import chip_name
from latchwork.problems import Label, Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.meetings import Meeting
from latchwork.tools.rules.situations import by_hand, leaf_names, situation_labels
from latchwork.tools.rules.wording import listed, nets_in_words, pin_label

CODE = "W201"
SEVERITY = Severity.ERROR


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    for meeting in facts.meetings:
        if meeting.sure:
            yield _problem(facts, meeting)


def _problem(facts: Facts, meeting: Meeting) -> Problem:
    a, b = meeting.drivers
    names = [chip_name(facts.netlist, driver.chip) for driver in (a, b)]
    message = f"{names[0]} and {names[1]} both drive {nets_in_words(facts.netlist, meeting.nets)}"
    labels = (
        *(_label(facts, meeting, number) for number in (0, 1)),
        *situation_labels(facts, meeting.sure),
        *_condition(facts, meeting.leaves),
    )
    if facts.model.control is None and by_hand(facts, meeting.leaves):
        return Problem(CODE, f"{message} when both are asked to by hand", labels, "ask one at a time", Severity.NOTE)
    return Problem(CODE, message, labels, "let one of them drive at a time")


def _label(facts: Facts, meeting: Meeting, number: int) -> Label:
    driver, lines = meeting.drivers[number], meeting.lines[number]
    names = {line.net: f"{facts.netlist.nets[line.net].name} = {line.active}" for line in facts.netlist.lines}
    cause = f" while {listed([names[net] for net in lines])}" if lines else ""
    net = facts.netlist.nets[meeting.nets[0]].name
    return pin_label(facts.netlist, PinRef(driver.chip, driver.pin), f"drives {net}{cause}")


def _condition(facts: Facts, leaves: Sequence[Leaf]) -> tuple[Label, ...]:
    """What else it hangs on."""
    if not leaves:
        return ()
    return (Label(NOWHERE, f"under some levels of {listed(leaf_names(facts, leaves))}"),)
