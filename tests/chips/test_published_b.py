"""Pinouts of counters, selectors, arithmetic and memories; and no published row without its test."""

from __future__ import annotations

import pytest
import test_alu_b
import test_counters_b
import test_selectors_b
from published import PINOUTS, TABLES, entry_of

from latchwork.chips.pins import pin_name

NUMBERS = {"74161/163": ("161", "163"), "28C256/62256 (JEDEC 32Kx8)": ("28C256", "62256")}
GIVEN_NAMES = {"U//D": "UD", "A=B": "AB", "Cn+4": "Cn4", "Cn+x": "Cnx", "Cn+y": "Cny", "Cn+z": "Cnz"}


@pytest.mark.parametrize("pinout", PINOUTS, ids=lambda pinout: pinout["item"])
def test_pins_are_those_of_the_sheet(pinout: dict[str, dict[str, str]]) -> None:
    item = str(pinout["item"])
    for number in NUMBERS.get(item, (item.removeprefix("74"),)):
        pins = entry_of(number).pins
        assert {str(pin.number): pin.sheet for pin in pins} == pinout["value"]
        assert all(pin.name == GIVEN_NAMES.get(pin.sheet, pin_name(pin.sheet)) for pin in pins)


def test_every_row_has_its_test() -> None:
    tests = [test for module in (test_alu_b, test_counters_b, test_selectors_b) for test in vars(module).values()]
    assert {row for test in tests for row in getattr(test, "rows", ())} == set(TABLES)
