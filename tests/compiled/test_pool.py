"""Folded expressions mean what they meant, and what is called untouched is so; against the plain evaluator, which
tests/logic holds against integers."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from written_twice import MEMORY, WIDTHS, Levels, Twice, expressions, levels

from latchwork.engines.compiled.cutting import SameNames
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.taint import touched
from latchwork.logic import Expression
from latchwork.logic.evaluate import evaluate, mask

quick = settings(max_examples=150, deadline=None)
WORDS = {"words": MEMORY.__getitem__}


def folded(pool: Pool, root: Expression, known: Levels) -> Expression:
    """An expression with some variables made constant."""

    def look(name: str, low: int, width: int) -> Expression:
        if name in known:
            return pool.constant(known[name] >> low, width)
        return pool.slice(pool.variable(name, WIDTHS[name]), low, width)

    return pool.rewritten(root, look, SameNames())


@quick
@given(expressions(), levels(), st.sets(st.sampled_from(sorted(WIDTHS))))
def test_folding_changes_no_value(twice: Twice, levels: Levels, constant: set[str]) -> None:
    root = folded(Pool(), twice.expression, {name: levels[name] for name in constant})
    assert evaluate(root, levels, WORDS) == twice.meaning(levels)


@quick
@given(expressions(), levels(), st.data())
def test_a_deep_slice_is_a_slice(twice: Twice, levels: Levels, data: st.DataObject) -> None:
    pool = Pool()
    low = data.draw(st.integers(0, twice.width - 1))
    width = data.draw(st.integers(1, twice.width - low))
    piece = pool.deep_slice(folded(pool, twice.expression, {}), low, width)
    assert evaluate(piece, levels, WORDS) == twice.meaning(levels) >> low & mask(width)


@quick
@given(expressions(), levels(), levels(), levels())
def test_untouched_bits_do_not_hang_on_open_ones(twice: Twice, values: Levels, open_: Levels, others: Levels) -> None:
    pool = Pool()

    def open_bits(name: str, width: int) -> Expression:
        return pool.constant(open_[name], width)

    reached = evaluate(touched(pool, twice.expression, lambda node: folded(pool, node, {}), open_bits), values, WORDS)
    changed = {name: values[name] & ~open_[name] | others[name] & open_[name] for name in WIDTHS}
    assert (twice.meaning(values) ^ twice.meaning(changed)) & ~reached == 0
