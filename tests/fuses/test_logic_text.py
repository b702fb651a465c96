"""Logic as text: what it means, measured at the fuses; what is wrong with it, at its place.

The fuses are read by burned.py, which follows the diagrams of the data sheets; expressions are worked out by Python.
"""

from __future__ import annotations

import re
from itertools import pairwise, product
from pathlib import Path

import pytest
from burned import Burned
from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.fuses.device import Mode
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


def cases():
    """(text, full message) of every kind of mistake: mistakes/logic.txt."""
    file = Path(__file__).parent / "mistakes" / "logic.txt"
    for block in re.split(r"^== ", file.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        title, _, rest = block.partition("\n")
        text, _, message = rest.partition("-- says\n")
        yield pytest.param(text, message.strip(), id=title)


@pytest.mark.parametrize(("text", "message"), list(cases()))
def test_a_mistake_is_told_at_its_place(text: str, message: str) -> None:
    with pytest.raises(LatchworkError) as caught:
        fit(text)
    assert str(caught.value) == message


def test_there_are_bounds() -> None:
    with pytest.raises(LatchworkError) as caught:
        fit("device 16V8\n" + "\n" * 2000)
    assert str(caught.value) == "some.logic:2001:1: F205 a text has at most 2000 lines"
    with pytest.raises(LatchworkError) as caught:
        fit("device 16V8\npins\n    a 2" + " #" * 200)
    assert str(caught.value) == "some.logic:3:401: F201 a line has at most 400 characters (go on in a deeper line)"


def test_a_function_that_is_too_large(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("latchwork.fuses.functions.MOST_NODES", 10)
    with pytest.raises(LatchworkError) as caught:
        fit(f"device 22V10\n{HEAD}    y 18\nlogic\n    y = a xor b xor c xor d\n")
    assert str(caught.value) == (
        "some.logic:7:5: F205 the function is too large to be worked out (make a part of it an output of its own)"
    )


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


@pytest.mark.parametrize(
    ("name", "content", "message"),
    [
        ("missing.logic", None, "missing.logic: F111 there is no such file (it is looked for beside machine.py)"),
        (".", None, ".: F111 it can't be read (Is a directory)"),
        ("odd.logic", b"\xff\xfe", "odd.logic: F111 it is no text (logic is text in UTF-8; is this another file?)"),
        ("long.logic", b" " * 1048577, "long.logic: F111 it has 1048577 bytes; 1048576 are read"),
    ],
)
def test_a_file_that_can_t_be_read(
    name: str, content: bytes | None, message: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    if content is not None:
        Path(name).write_bytes(content)
    with pytest.raises(LatchworkError) as caught:
        logic_in(Path(name))
    assert str(caught.value) == message
