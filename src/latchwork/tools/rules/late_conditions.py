"""A condition is looked at before a flag can have changed it.

What it finds
    A step that looks at a condition by an address line of the control store, too soon after a step that changes
    the flag behind it. Without a control register a step sees what the step before it has changed. A control
    register puts one step between: the store is read for the next step while the present one is at work, so a
    step sees what the step but one before it has changed. A register between flag and store puts in one more.

    A change in the last step of an instruction is followed into the first steps of the next. Flags that are
    taken at every clock, whatever the control word says, are not steps' doing and are let pass. A flag selector
    in hardware, which gates a load or a skip, looks at the flag in the clock in which it acts, and sees what
    all steps before have changed.

Why it matters
    The step decides on the old flag. The program works as long as the flag happens not to change.

Example
    With a control register::

        alu = minus, flags_take
        when zero    pc_take, last        # still looks at the zero of before

What to do
    Put a step between that does something else, or nothing.

Sources
    Common practice (the delayed branch of pipelined control stores).
"""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.analysis.control_words import taken_from, used_rows
from latchwork.analysis.levels import Lanes, Leaf, folded, set_lanes
from latchwork.model import Model, Row
from latchwork.netlist import NetId
from latchwork.problems import Label, Problem, Severity
from latchwork.tools.rules.facts import Facts
from latchwork.tools.rules.meetings import chosen
from latchwork.tools.rules.taking import Taking, control_level, pairs_of, taking_lanes, takings
from latchwork.tools.rules.wording import chip_label, row_in_words

CODE = "W205"
SEVERITY = Severity.WARNING
LONGEST_DELAY = 3


def check(model: Model, facts: Facts) -> Iterator[Problem]:
    if model.control is None or model.statements.microprogram is None:
        return
    used = {name for row in used_rows(model.control) for name, _ in row.conditions}
    for name, net, _ in model.statements.microprogram.conditions:
        if name in used:
            for delay, changing in changes(facts, net).items():
                yield from _late(facts, name, delay, changing)


def changes(facts: Facts, net: NetId) -> dict[int, list[Row]]:
    """Rows that can change a condition, by how many steps later than the next the store sees it."""
    found: dict[int, set[Row]] = {}
    _follow(facts, net, 1 if facts.words.registered else 0, found)
    return {delay: sorted(rows, key=_order) for delay, rows in sorted(found.items()) if delay}


def _order(row: Row) -> tuple[str, int, str]:
    return str(row.position.file), row.position.line, row.block


def _follow(facts: Facts, net: NetId, delay: int, found: dict[int, set[Row]]) -> None:
    """The registers behind a net; those that take at every clock are followed to what is behind them."""
    scout = Lanes(facts.wiring)
    scout.net(net)
    for leaf in sorted(scout.met):
        if leaf.kind == "state" and leaf not in facts.words.registered:
            _follow_state(facts, leaf, delay, found)


def _follow_state(facts: Facts, leaf: Leaf, delay: int, found: dict[int, set[Row]]) -> None:
    for taking in takings(leaf.place, facts.netlist.part_of(leaf.place).behaviour):
        if taking.own != leaf.name or taking.clock is None:
            continue
        rows, always = _changing(facts, leaf, taking)
        if not always:
            found.setdefault(delay, set()).update(rows)
        elif delay < LONGEST_DELAY:
            for net in _inputs(facts, leaf, taking):
                _follow(facts, net, delay + 1, found)


def _inputs(facts: Facts, leaf: Leaf, taking: Taking) -> list[NetId]:
    """Nets on the pins from which the bit is taken."""
    part = facts.netlist.part_of(leaf.place)
    register = next(item for item in part.behaviour.registers if item.name == leaf.name)
    sources = [source for source in taken_from(part, register, leaf.bit) if source]
    nets = [facts.netlist.nets_of(leaf.place, port)[bit] for port, bit in sorted(sources)]
    return [net for net in nets if net >= 0 and taking.clock is not None]


def _changing(facts: Facts, leaf: Leaf, taking: Taking) -> tuple[set[Row], bool]:
    """Rows in which the bit can change, and whether all do."""
    scout = Lanes(facts.wiring, 1, facts.words.unknown)
    control_level(scout, taking)
    scout.bit(leaf.place, taking.data[0], leaf.bit)
    situations = [item for item in facts.words.situations(scout.met) if item.rows]
    count = len(situations)
    given = chosen(facts.words.given(situations), [leaf], count)
    lanes = Lanes(facts.wiring, 2 * count, given)
    data, held = lanes.bit(leaf.place, taking.data[0], leaf.bit), given.leaves[leaf]
    differs = (data.one ^ held.one) | (data.zero ^ held.zero)
    hits = set_lanes(folded(differs & taking_lanes(lanes, taking, pairs_of(situations)), count, 2))
    rows = {row for lane in hits for row in situations[lane].rows}
    return rows, len(rows) == len({row for item in situations for row in item.rows})


def _late(facts: Facts, name: str, delay: int, changing: list[Row]) -> Iterator[Problem]:
    """One problem for each step that looks too soon."""
    assert facts.model.control is not None
    seen: set[tuple[str, int]] = set()
    ends = _last_steps(facts)
    for row in sorted(used_rows(facts.model.control), key=_order):
        if name in dict(row.conditions) and (row.block, row.step) not in seen:
            early = next((item for item in changing if _too_soon(item, row, delay, ends)), None)
            if early is not None:
                seen.add((row.block, row.step))
                yield _problem(facts, name, early, row, delay)


def _last_steps(facts: Facts) -> dict[str, int]:
    assert facts.model.control is not None
    ends: dict[str, int] = {}
    for row in used_rows(facts.model.control):
        ends[row.block] = max(row.step, ends.get(row.block, 0))
    return ends


def _too_soon(changing: Row, looking: Row, delay: int, ends: dict[str, int]) -> bool:
    if changing.block == looking.block and 0 < looking.step - changing.step <= delay:
        return True
    return changing.step == ends[changing.block] and looking.step < delay


def _problem(facts: Facts, name: str, changing: Row, looking: Row, delay: int) -> Problem:
    step = f"step {looking.step} of `{looking.block}`"
    changer = (
        f"step {changing.step}" if changing.block == looking.block else f"step {changing.step} of `{changing.block}`"
    )
    message = f"{step} looks at `{name}` too soon to see what {changer} makes of it"
    labels = [
        Label(looking.position, f"{row_in_words(looking)} looks at it"),
        Label(changing.position, f"{row_in_words(changing)} can change it"),
    ]
    chips = sorted({leaf.place for leaf in facts.words.registered})
    if chips:
        labels.append(chip_label(facts.netlist, chips[0], "puts the control words a step later"))
    hint = f"leave {delay} step{'s' * (delay > 1)} between the two"
    return Problem(CODE, message, tuple(labels), hint, SEVERITY)
