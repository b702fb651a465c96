"""Pinouts as drawings: every pin once, in the data sheet's top view (common practice: pin 1 at the upper left, numbers
running down the left side and up the right one)."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from latchwork.chips import catalogue
from latchwork.chips.catalogue import find
from latchwork.draw.pinout import as_svg, as_text, sides
from latchwork.parts import Entry

SVG = "{http://www.w3.org/2000/svg}"
each_entry = pytest.mark.parametrize("entry", catalogue.entries(), ids=lambda entry: entry.name_in(entry.families[0]))


def test_the_whole_drawing_of_a_small_chip() -> None:
    assert as_text("74HC00", find("74HC00").pins) == [
        "        ┌─────╮ ╭──────┐",
        " 1A ──▶ │ 1         14 │ +── VCC",
        " 1B ──▶ │ 2         13 │ ◀── 4B",
        " 1Y ◀── │ 3         12 │ ◀── 4A",
        " 2A ──▶ │ 4  74HC00 11 │ ──▶ 4Y",
        " 2B ──▶ │ 5         10 │ ◀── 3B",
        " 2Y ◀── │ 6          9 │ ◀── 3A",
        "GND ──0 │ 7          8 │ ──▶ 3Y",
        "        └──────────────┘",
    ]


def test_numbers_run_down_and_up() -> None:
    both = sides(find("74HC161").pins)
    assert [pin.number for pin in both.left] == list(range(1, 9))
    assert [pin.number for pin in both.right] == list(range(16, 8, -1))


@each_entry
def test_every_pin_is_in_both_drawings(entry: Entry) -> None:
    name = entry.number
    lines = as_text(name, entry.pins)
    edges = [line.index("│") for line in lines[1:-1]]
    assert len(set(edges)) == 1
    assert len({line.rindex("│") for line in lines[1:-1]}) == 1
    found = [number for line in lines[1:-1] for pair in re.findall(r"│ (\d+) | (\d+) │", line) for number in pair]
    numbers = [int(number) for number in found if number]
    assert sorted(numbers) == sorted(pin.number for pin in entry.pins)
    tree = ElementTree.fromstring(as_svg(name, entry.title, entry.pins))
    drawn = [text.text for text in tree.iter(f"{SVG}text") if text.get("class") == "n"]
    assert sorted(map(int, drawn)) == sorted(numbers)
    width, height = map(float, tree.get("viewBox").split()[2:])
    assert all(
        0 < float(text.get("x")) < width and 0 < float(text.get("y")) < height for text in tree.iter(f"{SVG}text")
    )


def test_low_active_names_have_a_bar() -> None:
    tree = ElementTree.fromstring(as_svg("74HC161", "counter", find("74HC161").pins))
    barred = [text.text for text in tree.iter(f"{SVG}text") if text.get("text-decoration") == "overline"]
    assert barred == ["CLR", "LOAD"]
