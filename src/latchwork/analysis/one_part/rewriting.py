"""A behaviour with its expressions rewritten."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from latchwork.analysis.one_part.program import nodes, roots
from latchwork.logic import Expression
from latchwork.logic.expression import make
from latchwork.parts import Behaviour, Drive, Level

Rewrite = Callable[[Expression, list[Expression]], Expression | None]


def rewritten(behaviour: Behaviour, rewrite: Rewrite, known: dict[Expression, Expression] | None = None) -> Behaviour:
    """Every node, arguments first, becomes what ``rewrite`` makes of it and its new arguments; None: the same
    operation on these. ``known``: nodes whose replacement is given."""
    done = dict(known or {})
    for node in nodes(roots(behaviour)):
        if node not in done:
            arguments = [done[argument] for argument in node.args]
            made = rewrite(node, arguments)
            done[node] = make(node.operation, node.width, *arguments, data=node.data) if made is None else made
    return _mapped(behaviour, done)


def _mapped(behaviour: Behaviour, done: dict[Expression, Expression]) -> Behaviour:
    def levels(rows: tuple[Level, ...]) -> tuple[Level, ...]:
        return tuple(Level(done[row.active], done[row.value]) for row in rows)

    def enable(drive: Drive) -> Expression | None:
        return None if drive.enable is None else done[drive.enable]

    return replace(
        behaviour,
        drives=tuple(replace(each, value=done[each.value], enable=enable(each)) for each in behaviour.drives),
        registers=tuple(
            replace(
                each,
                updates=tuple(replace(row, clock=done[row.clock], data=done[row.data]) for row in each.updates),
                levels=levels(each.levels),
            )
            for each in behaviour.registers
        ),
        latches=tuple(
            replace(each, enable=done[each.enable], data=done[each.data], levels=levels(each.levels))
            for each in behaviour.latches
        ),
        memories=tuple(
            replace(
                each,
                writes=tuple(
                    replace(row, strobe=done[row.strobe], address=done[row.address], data=done[row.data])
                    for row in each.writes
                ),
            )
            for each in behaviour.memories
        ),
    )
