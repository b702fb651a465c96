"""Single gates by function, packed into packages board by board."""

from __future__ import annotations

from collections.abc import Sequence

from latchwork.design.connect import connect
from latchwork.design.draft import Draft, DraftChip
from latchwork.design.parts import gate_of
from latchwork.design.signals import Level, Net
from latchwork.design.values import net_of
from latchwork.parts import Direction, Entry, Part, Unit


def add_gate(draft: Draft, function: object, inputs: Sequence[object], family: str, out: Net | None = None) -> Net:
    """Take a unit of a package with room on this board, or of a new package; returns the output's net."""
    joined = [_input(draft, value) for value in inputs]
    entry, part = gate_of(function, len(inputs), family)
    result = net_of(draft, out, "the output of a gate") if out is not None else _fresh(draft, entry)
    chip = _package(draft, part)
    unit = _unit(chip, chip.unused.pop(0))
    connect(draft, chip, dict(zip(_ports(part, unit), [*joined, result], strict=True)))
    return result


def _input(draft: Draft, value: object) -> Net | Level:
    return value if isinstance(value, Level) else net_of(draft, value, "an input of a gate")


def _fresh(draft: Draft, entry: Entry) -> Net:
    board = draft.boards[draft.board].name if draft.board >= 0 else "main"
    word = f"{board}.{entry.function.replace(' ', '_')}"
    return draft.add_net(f"{word}{draft.count(word)}", declared=False)


def _package(draft: Draft, part: Part) -> DraftChip:
    """A package of the part with a free unit on the board being described."""
    for chip in draft.chips:
        if chip.part is part and chip.unused and chip.board == draft.current_board():
            return chip
    chip = draft.add_chip(part)
    chip.unused = [unit.name for unit in part.units]
    return chip


def _unit(chip: DraftChip, name: str) -> Unit:
    return next(unit for unit in chip.part.units if unit.name == name)


def _ports(part: Part, unit: Unit) -> list[str]:
    """The unit's ports, inputs first, the output last."""
    ports = [port for _, port in unit.ports]
    outputs = [port for port in ports if part.pins[part.ports[port][0]].direction is Direction.OUTPUT]
    return [port for port in ports if port not in outputs] + outputs


def pins_with_spares_tied(chip: DraftChip) -> tuple[int, ...]:
    """The chip's nets, with the inputs of units that no gate has taken tied low."""
    pins = list(chip.pins)
    for name in chip.unused:
        for port in _ports(chip.part, _unit(chip, name)):
            for pin in chip.part.ports[port]:
                if chip.part.pins[pin].direction is Direction.INPUT:
                    pins[pin] = int(Level.LOW)
    return tuple(pins)
