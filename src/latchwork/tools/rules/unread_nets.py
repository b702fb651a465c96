"""Nothing reads a net.

What it finds
    A net with a name that no input, lamp or statement of the machine looks at. A control line that does
    nothing, or a net that is joined to nothing at all, is a warning; any other a note: an output may be there
    for later. An output on a bus of which other bits are read is let pass.

Why it matters
    Often the name was written in two ways, and the chip that should read it reads another net.

Example
    The line is named and the register listens to another one::

        acc_take_n = m.line("acc_take_n")
        m.chip("74HCT377", CLK=clock, G_n=index_take_n, D=data, Q=acc)

What to do
    Join what should read it, or take the name out; for an output that is not needed write OPEN.

Sources
    Common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.model import Model
from latchwork.netlist import NetId, PinRef
from latchwork.parts import Direction
from latchwork.problems import Label, Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import bus_groups, first_pins, net_label, nets_in_words

CODE = "W104"
SEVERITY = Severity.WARNING


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    netlist = model.netlist
    lines = {line.net for line in netlist.lines}
    unread = [net for net, item in enumerate(netlist.nets) if item.declared and not _looked_at(facts, net)]
    partly = {net for bus in netlist.buses if not set(bus.nets) <= set(unread) for net in bus.nets}
    for nets in bus_groups(netlist, unread):
        for kind in (_bare, _idle_line, _plain):
            chosen = [net for net in nets if kind is _kind(facts, net, lines)]
            if chosen and not (kind is _plain and set(chosen) <= partly):
                yield kind(facts, chosen)


def _looked_at(facts: Facts, net: NetId) -> bool:
    held = facts.wiring.holders[net]
    passive = any(_shows(facts, at) for at in facts.netlist.pins_on[net])
    known = net in facts.wiring.levels or net in facts.spoken_of
    return known or passive or bool(facts.readers[net] or held.series or _other_side(facts, net))


def _shows(facts: Facts, at: PinRef) -> bool:
    part = facts.netlist.part_of(at.chip)
    return part.pins[at.pin].direction is Direction.PASSIVE and part.kind == "lamp"


def _other_side(facts: Facts, net: NetId) -> bool:
    """Whether a switch can join the net to another than a rail."""
    rails = (facts.netlist.high, facts.netlist.low)
    return any(far not in rails for _, far in facts.wiring.holders[net].switches)


def _kind(facts: Facts, net: NetId, lines: set[NetId]) -> object:
    if not facts.netlist.pins_on[net]:
        return _bare
    return _idle_line if net in lines else _plain


def _bare(facts: Facts, nets: list[NetId]) -> Problem:
    message = f"{nets_in_words(facts.netlist, nets)} {_is(nets)} joined to nothing"
    return Problem(CODE, message, _named(facts, nets), "join it, or take the name out", Severity.WARNING)


def _idle_line(facts: Facts, nets: list[NetId]) -> Problem:
    message = f"no chip listens to the control line{'s' * (len(nets) > 1)} {nets_in_words(facts.netlist, nets)}"
    hint = "join the chip that the line should act on, or take the line out"
    return Problem(CODE, message, _named(facts, nets), hint, Severity.WARNING)


def _plain(facts: Facts, nets: list[NetId]) -> Problem:
    message = f"nothing reads {nets_in_words(facts.netlist, nets)}"
    return Problem(
        CODE, message, _named(facts, nets), "join what should read it, or leave the output OPEN", Severity.NOTE
    )


def _is(nets: list[NetId]) -> str:
    return "is" if len(nets) == 1 else "are"


def _named(facts: Facts, nets: list[NetId]) -> tuple[Label, ...]:
    drivers = sorted({PinRef(item.chip, item.pin) for net in nets for item in facts.wiring.drivers[net]})
    return (*net_label(facts.netlist, nets[0], "named here"), *first_pins(facts.netlist, drivers, "drives it"))
