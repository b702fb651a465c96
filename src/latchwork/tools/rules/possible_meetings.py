"""Two outputs may drive a net in the same step.

What it finds
    Three-state outputs on one net of which Latchwork can't tell whether they are ever enabled together, because
    more than twelve bits that no control word sets decide it, such as a whole address. It is a note.

Why it matters
    If they do meet, see W201. The run reports every fight that happens.

Example
    A memory and a port whose enables are decoded from sixteen address lines by separate gates.

What to do
    Enable both from one decoder, of which only one output is active at a time; or state nets that stand still
    while the machine runs: m.assume(net, LOW).

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import PinRef
from latchwork.netlist.queries import chip_name
from latchwork.problems import Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.meetings import Meeting
from latchwork.tools.rules.situations import situation_labels
from latchwork.tools.rules.wording import nets_in_words, pin_label

CODE = "W202"
SEVERITY = Severity.NOTE


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    for meeting in facts.meetings:
        if meeting.doubtful and not meeting.sure:
            yield _problem(facts, meeting)


def _problem(facts: Facts, meeting: Meeting) -> Problem:
    netlist = facts.netlist
    names = [chip_name(netlist, driver.chip) for driver in meeting.drivers]
    nets = nets_in_words(netlist, meeting.nets)
    message = f"whether {names[0]} and {names[1]} both drive {nets} at some time can't be told"
    ends = [pin_label(netlist, PinRef(driver.chip, driver.pin), "can drive it") for driver in meeting.drivers]
    labels = (*ends, *situation_labels(facts, meeting.doubtful))
    return Problem(CODE, message, labels, "enable both from one decoder, or state what stands still", SEVERITY)
