"""Published pinouts and function tables of counters, selectors, arithmetic and memories.

They stand in tests/data/counters_selectors_arithmetic.json, each with its source; where that says "memory" the row
was recalled. A test that checks a row is marked with ``row``; test_published_b.py sees to it that none is left out.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import product
from pathlib import Path
from typing import TypeVar

from bench import Bench

from latchwork.chips import catalogue
from latchwork.logic import concat
from latchwork.logic.evaluate import evaluate, mask
from latchwork.parts import Entry, Floating, Part

DATA = Path(__file__).parents[1] / "data" / "counters_selectors_arithmetic.json"
ROWS = json.loads(DATA.read_text(encoding="utf-8"))
PINOUTS = [row for row in ROWS if row["quantity"] == "DIP pinout"]
TABLES = {(row["item"], row["quantity"]): row for row in ROWS if row["quantity"] != "DIP pinout"}
LEVELS = (0, 1)

Test = TypeVar("Test", bound=Callable[..., None])


def row(item: str, *quantities: str) -> Callable[[Test], Test]:
    """Marks the test of one or several rows; a row that is not there is an error."""

    def mark(test: Test) -> Test:
        rows = [TABLES[item, quantity] for quantity in quantities]
        test.rows = [*getattr(test, "rows", []), *((row["item"], row["quantity"]) for row in rows)]  # type: ignore[attr-defined]
        return test

    return mark


def entry_of(number: str) -> Entry:
    return next(entry for entry in catalogue.entries() if entry.number == number)


def part_of(number: str) -> Part:
    return entry_of(number).in_family(entry_of(number).families[0], Floating.UNKNOWN)


def bench(number: str, **levels: int) -> Bench:
    return Bench(part_of(number), **levels)


def outputs(part: Part, **levels: int) -> dict[str, int]:
    """What a part without state gives on its outputs, by port; enables left aside."""
    drives = part.behaviour.drives
    together = evaluate(concat(*(drive.value for drive in drives)), levels)  # nodes that drives share: once
    found = {}
    for drive in drives:
        found[drive.port] = together & mask(drive.value.width)
        together >>= drive.value.width
    return found


def combinations(*names: str) -> list[dict[str, int]]:
    """All levels of pins of one bit."""
    return [dict(zip(names, levels, strict=True)) for levels in product(LEVELS, repeat=len(names))]
