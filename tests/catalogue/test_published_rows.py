"""Every published timing and DC row that names a part is used, or answered with a reason."""

from __future__ import annotations

import re

from published_rows import REASONS, is_used, key, names_a_part, reason, rows

WITHOUT_PART = re.compile("fan-out|noise margin|LS output into plain HC input|CMOS dynamic power")


def test_rows_name_a_part_or_are_rules_of_the_trade() -> None:
    """Fan-out is checked in tests/chips; the rest belongs to loading and supply."""
    assert [
        str(row["item"]) for row in rows() if not names_a_part(row) and not WITHOUT_PART.match(str(row["item"]))
    ] == []


def test_every_row_is_used_or_answered() -> None:
    assert [key(row) for row in rows() if names_a_part(row) and not is_used(row) and not reason(row)] == []


def test_most_rows_are_used() -> None:
    named = [row for row in rows() if names_a_part(row)]
    assert sum(map(is_used, named)) >= 0.75 * len(named)


def test_rows_read_in_a_sheet_are_not_set_aside_as_recalled() -> None:
    recalled = REASONS[-1][-1]
    wrong = [key(row) for row in rows() if names_a_part(row) and not is_used(row) and reason(row) == recalled]
    kinds = {key(row): str(row["confidence"]) for row in rows()}
    assert [name for name in wrong if kinds[name] == "read"] == []
