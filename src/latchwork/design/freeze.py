"""From the draft to the frozen netlist."""

from __future__ import annotations

from latchwork import netlist
from latchwork.base.quantity import PICOSECONDS
from latchwork.design.draft import Draft, DraftChip
from latchwork.design.gates import pins_with_spares_tied
from latchwork.design.signals import Level
from latchwork.netlist import Netlist
from latchwork.parts import Part

RESET_WITHOUT_CRYSTAL = PICOSECONDS // 10  # a tenth of a second, a person's time


def frozen(draft: Draft) -> Netlist:
    """The netlist of what has been described so far."""
    parts: dict[str, Part] = {}
    for chip in draft.chips:
        parts.setdefault(chip.part.name, chip.part)
    numbers = {name: index for index, name in enumerate(parts)}
    return Netlist(
        name=draft.name,
        family=draft.family,
        supply_millivolts=draft.supply_millivolts,
        parts=tuple(parts.values()),
        nets=tuple(draft.nets),
        chips=tuple(_chip(draft, chip, numbers[chip.part.name]) for chip in draft.chips),
        boards=tuple(draft.boards),
        buses=tuple(draft.buses),
        high=int(Level.HIGH),
        low=int(Level.LOW),
        clock=draft.main_clock,
        lines=tuple(draft.lines.values()),
        assumptions=tuple(draft.assumptions.values()),
    )


def _parameters(draft: Draft, chip: DraftChip) -> dict[str, int | str]:
    """A reset whose time was left open lasts four periods of the main clock and ends inside its low half."""
    if chip not in draft.waiting:
        return chip.parameters
    period = draft.periods.get(draft.main_clock, 0)
    return {**chip.parameters, "hold": 4 * period + period // 4 if period else RESET_WITHOUT_CRYSTAL}


def _chip(draft: Draft, chip: DraftChip, part: int) -> netlist.Chip:
    return netlist.Chip(
        reference=chip.reference,
        part=part,
        pins=pins_with_spares_tied(chip),
        board=chip.board,
        label=chip.label,
        parameters=tuple(sorted(_parameters(draft, chip).items())),
        position=chip.position,
        left_open=tuple(sorted(chip.left_open)),
        spare_units=tuple(chip.unused),
    )
