"""The evaluator against Python integers, the evaluator with unknown bits against the plain one, and the text form."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from written_twice import MEMORY, WIDTHS, Levels, Twice, expressions, levels

from latchwork.logic import all_of, any_of, constant, mux, variable
from latchwork.logic.evaluate import Known, evaluate, evaluate_known, mask
from latchwork.logic.text import parsed, written

quick = settings(max_examples=150, deadline=None)
WORDS = {"words": MEMORY.__getitem__}


def word_known(address: Known) -> Known:
    """The memory with an address that may be unknown: then nothing of the word is known."""
    value, known = address
    return (MEMORY[value], 255) if known == 7 else (0, 0)


@quick
@given(expressions(), levels())
def test_values_are_those_of_integers(twice: Twice, levels: Levels) -> None:
    assert evaluate(twice.expression, levels, WORDS) == twice.meaning(levels)


@quick
@given(expressions(), levels(), levels(), st.integers(0, 2**32))
def test_what_is_called_known_holds_for_every_completion(
    twice: Twice, values: Levels, masks: Levels, seed: int
) -> None:
    partly = {name: (values[name] & masks[name], masks[name]) for name in WIDTHS}
    bits, known = evaluate_known(twice.expression, partly, {"words": word_known})
    assert bits & ~known == 0
    assert known <= mask(twice.width)
    chance = random.Random(seed)
    for _ in range(8):
        whole = {
            name: value | chance.getrandbits(WIDTHS[name]) & ~known_bits for name, (value, known_bits) in partly.items()
        }
        assert (twice.meaning(whole) ^ bits) & known == 0


@quick
@given(expressions(), levels())
def test_with_all_bits_known_all_is_known(twice: Twice, levels: Levels) -> None:
    partly = {name: (value, mask(WIDTHS[name])) for name, value in levels.items()}
    found = evaluate_known(twice.expression, partly, {"words": word_known})
    assert found == (twice.meaning(levels), mask(twice.width))


@quick
@given(expressions())
def test_the_text_form_is_read_back_as_the_same_object(twice: Twice) -> None:
    assert parsed(written(twice.expression)) is twice.expression


@pytest.mark.parametrize(
    ("a", "b", "bits", "known"),
    [
        ((0b0001, 0b0001), (0b0001, 0b0001), 0b0000, 0b0001),  # 1 + 1: the lowest bit is sure, the rest is not
        ((0b0000, 0b1110), (0b0010, 0b1111), 0b0010, 0b1110),  # no carry can come out of the unknown bit
        ((0b0000, 0b0000), (0b0000, 0b1111), 0b0000, 0b0000),
    ],
)
def test_sums_know_the_bits_that_no_carry_reaches(a: Known, b: Known, bits: int, known: int) -> None:
    """Worked by hand (common practice)."""
    total = variable("a", 4) + variable("b", 4)
    assert evaluate_known(total, {"a": a, "b": b}) == (bits, known)


def test_a_controlling_value_decides() -> None:
    """A low input decides an AND, a high one an OR, equal values a selection: common practice."""
    x, y = variable("x"), variable("y")
    assert evaluate_known(x & y, {"x": (0, 1)}) == (0, 1)
    assert evaluate_known(x | y, {"x": (1, 1)}) == (1, 1)
    assert evaluate_known(x ^ y, {"x": (1, 1)}) == (0, 0)
    assert evaluate_known(mux(x, y, y), {"y": (1, 1)}) == (1, 1)
    assert evaluate_known(all_of(x, y), {"x": (0, 1)}) == (0, 1)
    assert evaluate_known(any_of(x, y), {"x": (1, 1)}) == (1, 1)


def test_equal_expressions_are_one_object() -> None:
    assert (variable("x", 4) + 3) is (variable("x", 4) + constant(3, 4))
    assert ~variable("x", 4) is not ~variable("x", 5)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: variable("x", 2) & variable("y", 3), "widths differ: 2 and 3"),
        (lambda: mux(variable("x", 2), constant(0), constant(1)), r"a mux selects by one bit, not 2; use case\(\)"),
        (lambda: variable("x", 4)[2:5], r"bits 2\.\.4 lie outside of a width of 4"),
        (lambda: variable("x", 2).repeat(3), "only a single bit is repeated, this has 2"),
    ],
)
def test_widths_are_checked_when_made(make: object, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        make()  # type: ignore[operator]


def test_a_missing_value_is_an_error() -> None:
    with pytest.raises(KeyError):
        evaluate(variable("x"), {})


@pytest.mark.parametrize("text", ["", ")", "(and 1", "(nothing 1 a/1)", "(not 1 a/1", "a", "(not 1 a/1) b/1"])
def test_broken_text_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        parsed(text)


@pytest.mark.parametrize("text", ["(", "(and"])
def test_text_that_ends_inside_a_node_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"."):
        parsed(text)


@quick
@given(st.text(alphabet="()/' 019abandnotxread:,", max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert written(parsed(text))
    except ValueError as refusal:
        assert str(refusal)  # noqa: PT017  either outcome is right, any other exception fails
