"""Control lines: how a net's name says what it does, and at which level."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from latchwork import netlist
from latchwork.base.position import Position
from latchwork.design.draft import Draft
from latchwork.design.mistakes import kind_of, mistake
from latchwork.design.place import here
from latchwork.design.signals import Bus, Net
from latchwork.design.values import level_of, name_of, net_of, number_of


class Use(NamedTuple):
    """What is written about a line besides its name."""

    rest: object
    phase: object
    hardware: object


def add_line(draft: Draft, name: object, use: Use) -> Net:
    """A net that is a control line."""
    given = name_of(name, "a control line")
    net = draft.add_net(given)
    _note(draft, *_meaning(given), net, use)
    return net


def add_lines(draft: Draft, name: object, width: object, use: Use) -> Bus:
    """A bus of control lines: nets ``alu_f[0]``, lines ``alu_f0``."""
    given = name_of(name, "a row of control lines")
    bus = draft.add_bus(given, number_of(width, f'the width of "{given}"', 1, 64))
    base, active = _meaning(given)
    for bit, net in enumerate(bus):
        _note(draft, f"{base}{bit}", active, net, use)
    return bus


def _meaning(name: str) -> tuple[str, int]:
    """The line's name and its active level: ``_n`` at the end says that low does it."""
    bare = name.removesuffix("_n")
    return (bare, 0) if bare != name and bare else (name, 1)


def _note(draft: Draft, name: str, active: int, net: Net, use: Use) -> None:
    position = here()
    _refuse_second(draft, name, position)
    level = 1 - active if use.rest is None else level_of(use.rest, f'the rest level of the line "{name}"')
    draft.lines[name] = netlist.Line(
        name, net.index, active, level, _phase(draft, use.phase), bool(use.hardware), position
    )


def _refuse_second(draft: Draft, name: str, position: Position) -> None:
    if name in draft.lines:
        earlier = draft.lines[name].position
        message = f'the line "{name}" is there already, in line {earlier.line}'
        raise mistake("M006", message, at=position, earlier=earlier, earlier_text="named here first")


def _phase(draft: Draft, phase: object) -> tuple[tuple[int, int], ...]:
    if phase is None:
        return ()
    if not isinstance(phase, Mapping):
        raise mistake("M007", f"phase is nets with levels, such as {{clock: LOW}}, not {kind_of(phase)}")
    return tuple(
        (net_of(draft, net, "phase").index, level_of(level, "a level in phase")) for net, level in phase.items()
    )
