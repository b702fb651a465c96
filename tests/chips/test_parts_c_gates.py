"""The open-collector, strong, AND-OR-invert and other further gates, all input combinations.

What the names of gates mean is common knowledge; which pins they use and which outputs let go is from memory of the
makers' function tables.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest
from bench import Bench
from published import entry_of

from latchwork.chips.catalogue import find
from latchwork.parts import OutputKind


def nand(*levels: int) -> int:
    return int(sum(levels) < len(levels))


def nor(*levels: int) -> int:
    return int(sum(levels) == 0)


def conjunction(*levels: int) -> int:
    return int(sum(levels) == len(levels))


def same(level: int) -> int:
    return level


def different(level: int) -> int:
    return 1 - level


def equal(a: int, b: int) -> int:
    return int(a == b)


OPEN = [
    ("03", nand, 2, 4),
    ("05", different, 1, 6),
    ("06", different, 1, 6),
    ("07", same, 1, 6),
    ("09", conjunction, 2, 4),
    ("12", nand, 3, 3),
    ("22", nand, 4, 2),
    ("33", nor, 2, 4),
    ("38", nand, 2, 4),
    ("266", equal, 2, 4),
]


@pytest.mark.parametrize(("number", "function", "inputs", "count"), OPEN, ids=[row[0] for row in OPEN])
def test_an_open_collector_gate_pulls_low_or_lets_go(
    number: str, function: Callable[..., int], inputs: int, count: int
) -> None:
    part = find(f"74LS{number}")
    assert len(part.units) == count
    for unit in part.units:
        *pins, output = (port for _, port in unit.ports)
        assert len(pins) == inputs
        for levels in product((0, 1), repeat=inputs):
            shown = Bench(part, **dict(zip(pins, levels, strict=True))).read(output)
            assert shown == (None if function(*levels) else 0)


def test_the_other_gates_of_a_package_stand_still() -> None:
    """Each gate of a 37 sees its own two inputs only."""
    part = find("74LS37")
    for levels in product((0, 1), repeat=8):
        pins = dict(zip(("A1", "B1", "A2", "B2", "A3", "B3", "A4", "B4"), levels, strict=True))
        shown = Bench(part, **pins)
        assert [shown.read(f"Y{n}") for n in (1, 2, 3, 4)] == [nand(pins[f"A{n}"], pins[f"B{n}"]) for n in (1, 2, 3, 4)]


@pytest.mark.parametrize(
    ("name", "products"),
    [
        ("7451", {1: ("AB", "CD"), 2: ("AB", "CD")}),
        ("74S51", {1: ("AB", "CD"), 2: ("AB", "CD")}),
        ("74LS51", {1: ("ABC", "DEF"), 2: ("AB", "CD")}),
        ("74HC51", {1: ("ABC", "DEF"), 2: ("AB", "CD")}),
    ],
)
def test_and_or_invert_in_both_arrangements(name: str, products: dict[int, tuple[str, str]]) -> None:
    part = find(name)
    for gate, groups in products.items():
        letters = "".join(groups)
        for levels in product((0, 1), repeat=len(letters)):
            of = dict(zip(letters, levels, strict=True))
            bench = Bench(part, **{f"{letter}{gate}": level for letter, level in of.items()})
            wanted = 1 - max(min(of[letter] for letter in group) for group in groups)
            assert bench.read(f"Y{gate}") == wanted


def test_only_open_outputs_are_open() -> None:
    """From memory: of these numbers 37, 51, 132, 133, 260 and 21 have push-pull outputs."""
    opened = {number for number, *_ in OPEN}
    for number in (*opened, "21", "37", "51", "132", "133", "260"):
        kinds = {drive.kind for drive in entry_of(number).behaviour.drives}
        assert kinds == {OutputKind.OPEN_COLLECTOR if number in opened else OutputKind.PUSH_PULL}


def test_the_pinouts_that_are_easily_mistaken() -> None:
    """From memory of the connection diagrams: outputs of 260 and 266, inputs of 51 by family."""
    pin = lambda name, label: find(name).pins[find(name).pin_index[label]].number  # noqa: E731
    assert [pin("74LS260", f"Y{n}") for n in (1, 2)] == [5, 6]
    assert [pin("74LS266", f"Y{n}") for n in (1, 2, 3, 4)] == [3, 4, 10, 11]
    assert (pin("7451", "C1"), pin("74LS51", "C1")) == (9, 13)
    assert (pin("74LS133", "Y"), pin("74LS133", "M")) == (9, 15)
