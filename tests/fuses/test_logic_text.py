"""Logic as text: what it means, measured at the fuses; what is wrong with it, at its place.

The fuses are read by burned.py, which follows the diagrams of the data sheets; expressions are worked out by Python.
"""

from __future__ import annotations

from itertools import pairwise, product
from pathlib import Path

import pytest
from burned import Burned
from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.base.position import Position
from latchwork.fuses.device import Mode
from latchwork.fuses.errors import CODES
from latchwork.fuses.fit import Fitted, fitted
from latchwork.fuses.sources import logic_in
from latchwork.fuses.text import read_logic
from latchwork.problems import LatchworkError

INPUTS = {"a": 2, "b": 3, "c": 4, "d": 5, "e": 6}
HEAD = "pins\n    clock 1\n    a b c d e  2 3 4 5 6\n"


def fit(text: str) -> Fitted:
    return fitted(read_logic(text, "some.logic"))


expressions = st.recursive(
    st.sampled_from([*INPUTS, "high", "low"]),
    lambda inner: st.one_of(
        inner.map(lambda one: f"(not {one})"),
        st.tuples(inner, st.sampled_from(["and", "or", "xor"]), inner).map(lambda each: f"({' '.join(each)})"),
    ),
    max_leaves=9,
)


def value_of(expression: str, levels: dict[str, int]) -> int:
    """By Python: `xor` of levels that are 0 and 1 is "differs from"."""
    return int(eval(expression.replace("xor", "!="), {name: bool(level) for name, level in levels.items()}))


@pytest.mark.parametrize(("kind", "pin"), [("16V8", 19), ("20V8", 22), ("22V10", 23)])
@settings(max_examples=25, deadline=None)
@given(value=expressions, registered=st.booleans())
def test_the_fuses_do_what_the_text_says(kind: str, pin: int, value: str, registered: bool) -> None:
    found = fit(f"device {kind}\n{HEAD}    y {pin}\nlogic\n    y {'takes' if registered else '='} {value}\n")
    burned = Burned(kind, found.fuses)
    for levels in product((0, 1), repeat=5):
        named = dict(zip(INPUTS, levels, strict=True))
        at_pins = dict.fromkeys(range(1, 24), 0) | {INPUTS[name]: level for name, level in named.items()}
        if registered:
            burned.edge(at_pins)
        expected = value_of(value, named | {"high": 1, "low": 0})
        assert burned.settled(at_pins)[pin] == expected


@settings(max_examples=60, deadline=None)
@given(operator=st.sampled_from(["==", "!=", "<", "<=", ">", ">="]), number=st.integers(0, 31))
def test_groups_are_compared_as_numbers(operator: str, number: int) -> None:
    text = f"device 22V10\n{HEAD}    y 18\ngroups\n    word = a b c d e\nlogic\n    y = word {operator} {number}\n"
    burned = Burned("22V10", fit(text).fuses)
    for word in range(32):
        at_pins = dict.fromkeys(range(1, 24), 0) | {2 + n: word >> (4 - n) & 1 for n in range(5)}
        assert burned.settled(at_pins)[18] == eval(f"{word} {operator} {number}")


def test_operators_bind_as_in_a_microprogram() -> None:
    """`not` first, then `and`, then `xor`, then `or`."""
    logic = "    x = a or b xor not c and d\n    y = a or (b xor ((not c) and d))\n"
    burned = Burned("22V10", fit(f"device 22V10\n{HEAD}    x y 18 19\nlogic\n{logic}").fuses)
    for levels in product((0, 1), repeat=4):
        at_pins = dict.fromkeys(range(1, 24), 0) | dict(zip((2, 3, 4, 5), levels, strict=True))
        shown = burned.settled(at_pins)
        assert shown[18] == shown[19] == (levels[0] | (levels[1] ^ ((1 - levels[2]) & levels[3])))


@pytest.mark.parametrize(
    ("text", "mode"),
    [
        ("y = a and b", Mode.SIMPLE),
        ("y = a when b", Mode.COMPLEX),
        ("y takes a xor y", Mode.REGISTERED),
    ],
)
def test_the_mode_of_a_16v8_follows_from_the_text(text: str, mode: Mode) -> None:
    assert fit(f"device 16V8\n{HEAD}    y 18\nlogic\n    {text}\n").mode is mode


def test_registers_count_in_each_device() -> None:
    for kind, (high, low) in (("16V8", (19, 18)), ("20V8", (22, 21)), ("22V10", (23, 22))):
        text = f"device {kind}\n{HEAD}    q1 q0 {high} {low}\nlogic\n    q0 takes not q0\n    q1 takes q1 xor q0\n"
        burned = Burned(kind, fit(text).fuses)
        at_pins = dict.fromkeys(range(1, 24), 0)
        seen = []
        for _ in range(5):
            shown = burned.settled(at_pins)
            seen.append(2 * shown[high] + shown[low])
            burned.edge(at_pins)
        assert [(after - before) % 4 for before, after in pairwise(seen)] == [1, 1, 1, 1]


def test_reset_and_preset_of_a_22v10() -> None:
    text = f"device 22V10\n{HEAD}    y 18\nlogic\n    y takes a\n    reset when b and not c\n    preset when d\n"
    burned = Burned("22V10", fit(text).fuses)
    at_pins = dict.fromkeys(range(1, 24), 0)
    burned.edge(at_pins | {5: 1})
    assert burned.settled(at_pins)[18] == 1
    assert burned.settled(at_pins | {3: 1, 4: 1})[18] == 1
    assert burned.settled(at_pins | {3: 1})[18] == 0


HARD = "y = " + " xor ".join("abcde")
REFUSED = [
    ("F201", "^"),
    ("F201", "^pins\n"),
    ("F202", "device ^17V8\n"),
    ("F201", "device 16V8\n^stuff\n"),
    ("F201", "device 16V8\npins ^a\n"),
    ("F201", "device 16V8\n    ^a 2\n"),
    ("F201", "device 16V8\npins\n    a ^%\n"),
    ("F201", "device 16V8\npins\n    a b 2^\n"),
    ("F201", "device 16V8\npins\n    a 2 ^3\n"),
    ("F201", "device 16V8\npins\n    a ^2x\n"),
    ("F201", "device 16V8\npins\n    ^not 2\n"),
    ("F202", "device 16V8\npins\n    a ^10\n"),
    ("F204", "device 16V8\npins\n    a 2\n    ^a 3\n"),
    ("F204", "device 16V8\npins\n    a 2\n    b ^2\n"),
    ("F204", "device 16V8\npins\n    ^I 2\n"),
    ("F202", "device 16V8\npins\n    a 2\ngroups\n    g = a ^b\n"),
    ("F204", "device 16V8\npins\n    a 2\ngroups\n    ^a = a\n"),
    ("F203", "device 16V8\npins\n    a y 2 19\ngroups\n    g = a\nlogic\n    y = g == ^2\n"),
    ("F201", "device 16V8\npins\n    a y 2 19\ngroups\n    g = a\nlogic\n    y = g ^and a\n"),
    ("F202", "device 16V8\npins\n    a y 2 19\nlogic\n    y = a and ^b\n"),
    ("F201", "device 16V8\npins\n    a y 2 19\nlogic\n    y = a and^\n"),
    ("F201", "device 16V8\npins\n    a y 2 19\nlogic\n    y = (a or y^\n"),
    ("F201", "device 16V8\npins\n    a y 2 19\nlogic\n    y ^a\n"),
    ("F201", "device 16V8\npins\n    a y 2 19\nlogic\n    y = a ^y\n"),
    ("F204", "device 16V8\npins\n    a y 2 19\nlogic\n    y = a\n    ^y = not a\n"),
    ("F205", "device 16V8\npins\n    a y 2 19\nlogic\n    y = " + "(" * 60 + "^(a" + ")" * 61),
    ("F205", "device 16V8\n" + "\n" * 1999 + "^\npins\n"),
    ("F301", "device 16V8\npins\n    a y 2 3\nlogic\n    ^y = a\n"),
    ("F302", f"device 16V8\n{HEAD}    y 19\nlogic\n    ^{HARD}\n"),
    ("F303", "device 16V8\npins\n    clock a y 1 11 19\nlogic\n    ^y takes a\n"),
    ("F303", "device 16V8\npins\n    a y z 2 19 18\nlogic\n    ^z = y when a\n    y = a\n"),
    ("F304", "device 16V8\npins\n    clock a y 1 2 19\nlogic\n    ^y takes a when a\n"),
    ("F304", "device 16V8\npins\n    clock a y 1 2 19\nlogic\n    y takes a\n    ^reset when a\n"),
    ("F304", f"device 22V10\n{HEAD}    y 19\nlogic\n    ^y = a when b or c\n"),
    ("F304", f"device 22V10\n{HEAD}    y 19\nlogic\n    y takes a\n    ^preset when b or c\n"),
    ("F305", "device 16V8\npins\n    a y 2 19\nlogic\n    ^y takes a\n"),
]


@pytest.mark.parametrize(("code", "marked"), REFUSED)
def test_a_mistake_is_told_at_its_place(code: str, marked: str) -> None:
    before, _, after = marked.partition("^")
    with pytest.raises(LatchworkError) as caught:
        fit(before + after)
    problem = caught.value.problems[0]
    place = Position("some.logic", before.count("\n") + 1, len(before.rpartition("\n")[2]) + 1)
    assert (problem.code, problem.position) == (code, place), problem.message
    assert problem.code in CODES


def test_every_wrong_statement_is_told_at_once() -> None:
    with pytest.raises(LatchworkError) as caught:
        fit("device 16V8\npins\n    a 2\n    a 3\nlogic\n    z = a\n    a = (a\n")
    assert [problem.code for problem in caught.value.problems] == ["F204", "F202", "F201"]


WORDS = [
    "a",
    "b",
    "y",
    "g",
    "1",
    "2",
    "(",
    ")",
    "=",
    "<",
    "==",
    "and",
    "or",
    "not",
    "xor",
    "takes",
    "when",
    "reset",
    "#",
]
STARTS = ["\n    ", "\npins\n    ", "\nlogic\n    ", "\ngroups\n    "]


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from([*WORDS, *STARTS]), max_size=30))
def test_any_text_is_fitted_or_refused(words: list[str]) -> None:
    try:
        found = fit("device 16V8\npins\n    a b y 2 3 19\n" + " ".join(words))
    except LatchworkError:
        return
    assert len(found.fuses) == 2194


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    (tmp_path / "odd.logic").write_bytes(b"\xff\xfe")
    with pytest.raises(LatchworkError, match="F111"):
        logic_in(tmp_path / "odd.logic")
