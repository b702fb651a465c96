"""Steps and clock levels as places of a problem."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from latchwork.analysis.control_words import Situation, shown_on
from latchwork.analysis.levels import Leaf
from latchwork.base.position import NOWHERE
from latchwork.model import Row
from latchwork.problems import Label
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.wording import MOST_PLACES, counted, row_in_words


def situation_labels(facts: Facts, found: Sequence[Situation]) -> tuple[Label, ...]:
    """The first rows of the microprogram, each with its levels of the clock, and how many more there are."""
    if facts.model.control is None:
        return _clock_alone(facts, found)
    rows = _rows(found)
    others = [Label(NOWHERE, f"{_at(facts, levels)}{what}") for what, levels in _without_rows(found).items()]
    shown = [_row(facts, row, levels) for row, levels in list(rows.items())[:MOST_PLACES]]
    more = len(rows) - MOST_PLACES
    return (*shown, *others, *([Label(NOWHERE, f"and in {counted(more, 'more row')}")] if more > 0 else []))


def _rows(found: Iterable[Situation]) -> dict[Row, set[int]]:
    """Rows in the order of the source, with the levels of the clock."""
    rows: dict[Row, set[int]] = {}
    for situation in found:
        for row in situation.rows:
            rows.setdefault(row, set()).add(situation.clock)
    return dict(sorted(rows.items(), key=lambda item: (item[0].position, item[0].block, item[0].step)))


def _without_rows(found: Iterable[Situation]) -> dict[str, set[int]]:
    others: dict[str, set[int]] = {}
    for situation in found:
        if situation.what:
            others.setdefault(situation.what, set()).add(situation.clock)
    return others


def _row(facts: Facts, row: Row, levels: set[int]) -> Label:
    return Label(row.position, f"{_at(facts, levels)}in {row_in_words(row)}")


def _clock_alone(facts: Facts, found: Sequence[Situation]) -> tuple[Label, ...]:
    text = _at(facts, {situation.clock for situation in found}).strip()
    return (Label(NOWHERE, text),) if text else ()


def _at(facts: Facts, levels: set[int]) -> str:
    """The level of the clock, where only one has it."""
    if len(levels) != 1 or -1 in levels:
        return ""
    level = "high" if 1 in levels else "low"
    return f"while {facts.netlist.nets[facts.netlist.clock].name} is {level} "


def by_hand(facts: Facts, leaves: Sequence[Leaf]) -> bool:
    """Whether only switches decide it."""
    return bool(leaves) and all(leaf.kind == "net" and facts.wiring.holders[leaf.place].switches for leaf in leaves)


def leaf_names(facts: Facts, leaves: Iterable[Leaf]) -> list[str]:
    """The nets that carry the leaves; a chip where none does."""
    names = list(dict.fromkeys(_leaf_name(facts, leaf) for leaf in leaves))
    more = len(names) - MOST_PLACES
    return names if more <= 0 else [*names[:MOST_PLACES], f"{more} more"]


def _leaf_name(facts: Facts, leaf: Leaf) -> str:
    if leaf.kind == "net":
        return facts.netlist.nets[leaf.place].name
    if leaf.kind == "state":
        part = facts.netlist.part_of(leaf.place)
        for net in shown_on(facts.wiring, leaf.place, part, leaf.name, leaf.bit):
            if net >= 0:
                return facts.netlist.nets[net].name
    return facts.netlist.chips[leaf.place].reference
