"""What figures a part and a family have: families in full; parts without a time of their own may only grow fewer."""

import pytest

from latchwork.chips.catalogue import entries
from latchwork.chips.families import FAMILIES
from latchwork.parts import Confidence, Entry

NEEDED = (
    "supply range", "input high", "input low", "output high", "output low",
    "input current high", "input current low", "output current high", "output current low",
)  # fmt: skip
TIMES = {"delay", "enable", "disable", "maximum clock"}

LEFT_WITHOUT_TIMES = 434
"""Pairs of part and family that had no time of their own when this was counted. Lower it as figures come in."""

SERIES = [entry for entry in entries() if entry.families != ("",)]


@pytest.mark.parametrize("name", FAMILIES, ids=lambda name: name or "TTL")
def test_a_family_has_levels_currents_and_supply(name: str) -> None:
    assert [quantity for quantity in NEEDED if quantity not in FAMILIES[name].figure] == []


@pytest.mark.parametrize("entry", SERIES, ids=lambda entry: entry.number)
def test_every_figure_is_of_a_family_in_which_the_part_is_made(entry: Entry) -> None:
    assert {row.family for row in entry.figures} - set(entry.families) == set()


@pytest.mark.parametrize("entry", entries(), ids=lambda entry: entry.number)
def test_every_figure_has_a_value_and_a_source(entry: Entry) -> None:
    valueless = [row for row in entry.figures if row.minimum is row.typical is row.maximum is None]
    sourceless = [row for row in entry.figures if not row.source]
    assert (valueless, sourceless) == ([], [])


def test_the_pairs_without_a_time_do_not_grow() -> None:
    assert len(list(_without_times())) <= LEFT_WITHOUT_TIMES


def test_nothing_read_is_borrowed_from_a_relative() -> None:
    """What the sheet of a near relative says of this part is from memory, however sure the likeness."""
    read = [(entry.number, row) for entry in entries() for row in entry.figures if row.confidence is Confidence.READ]
    assert [(number, row.source) for number, row in read if "from memory" in row.source] == []


def _without_times() -> list[tuple[str, str]]:
    timed = {(entry.number, row.family) for entry in SERIES for row in entry.figures if row.quantity in TIMES}
    pairs = [(entry.number, family) for entry in SERIES for family in entry.families]
    return [pair for pair in pairs if pair not in timed]
