"""The bits of every row that control lines hang on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.lowering.faults import explain
from latchwork.languages.microprogram.lowering.needs import needs_of, together
from latchwork.languages.microprogram.lowering.rows import PlacedRow, Sight, alike
from latchwork.languages.microprogram.lowering.solver import Solver
from latchwork.languages.microprogram.lowering.wishes import Vocabulary


def find_words(
    rows: Sequence[PlacedRow], solver: Solver, vocabulary: Vocabulary, sight: Sight, findings: Findings
) -> None:
    """Gives every row its bits, and notes the rows for which there are none."""
    for place, part in enumerate(solver.parts):
        mask = sight.mask(part.component.words)
        groups: Iterable[list[PlacedRow]] = ([row] for row in rows) if mask == sight.all else alike(rows, mask)
        for group in groups:
            _solve(group, place, solver, vocabulary, findings)


def _solve(group: list[PlacedRow], place: int, solver: Solver, vocabulary: Vocabulary, findings: Findings) -> None:
    component = solver.parts[place].component
    each = [needs_of(component, row.wish, vocabulary.rest, row.where) for row in group]
    choice = solver.answer(place, together(each))
    if choice is None:
        explain(group, each, place, solver=solver, vocabulary=vocabulary, findings=findings)
        return
    bits = solver.bits(place, choice)
    for row in group:
        row.bits.update(bits)
