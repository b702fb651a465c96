"""Random and mutated text: a program or problems with places, never a traceback, never a hang."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.languages.microprogram.meaning import parse_meaning
from latchwork.languages.microprogram.names import Names
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.problems import LatchworkError, Problem

HERON = Path(__file__).with_name("heron.micro").read_text()
BLOCKS = HERON.split("\n\n")
MARKS = [" ", "    ", "\n", "\n    ", "[", "]", "(", ")", ",", "#", "# ", ":", "0b", "-", "\t", "\r"]
WORDS = sorted(set(HERON.split())) + MARKS
NAMES = Names(frozenset({"acc"}), frozenset({"acc_take"}), frozenset({"carry"}))


def problems_in(text: str) -> tuple[Problem, ...]:
    try:
        parse_microprogram(text, NAMES)
    except LatchworkError as error:
        return error.problems
    return ()


def reads_or_complains(text: str) -> None:
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for problem in problems_in(text):
        assert 1 <= problem.position.line <= len(lines)
        assert 1 <= problem.position.column <= len(lines[problem.position.line - 1]) + 2


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=200))
def test_random_text(text: str) -> None:
    reads_or_complains(text)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=60))
def test_random_words(words: list[str]) -> None:
    reads_or_complains(" ".join(words))


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_mutated_text(data: st.DataObject) -> None:
    text = "\n\n".join(data.draw(st.lists(st.sampled_from(BLOCKS), max_size=8)))
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 12)))
        text = text[:start] + data.draw(st.sampled_from(WORDS) | st.text(max_size=4)) + text[end:]
    reads_or_complains(text)


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet="ab01=+-~()[]:;,.<>&|^ \nifelsandort", max_size=120))
def test_random_meanings(text: str) -> None:
    with suppress(LatchworkError):
        parse_meaning(text)


def test_deep_nesting_and_long_chains() -> None:
    for inside in (
        "(" * 190 + "a" + ")" * 190,
        "~" * 380 + "a",
        "not " * 90 + "a",
        "+a" * 150,
        "a[" * 120 + "a" + "]" * 120,
    ):
        reads_or_complains(f"entry interrupt\n    meaning a = {inside}\n    nothing\n")
        reads_or_complains(f"entry interrupt\n    when {inside}  b\n    otherwise c\n")


def test_doubling_blocks_end() -> None:
    chain = "".join(f"shared s{n}\n    s{n + 1}\n    s{n + 1}\n" for n in range(200)) + "shared s200\n    nothing\n"
    reads_or_complains(chain)
    groups = "".join(f"shared s{n}\n    s{n + 1}, s{n + 1}\n" for n in range(200)) + "shared s200\n    acc_take\n"
    reads_or_complains(groups)


def test_macros_with_ever_new_arguments_end() -> None:
    text = "".join(f"macro m{n}(x)\n    m{n + 1}([x]a)\n    m{n + 1}([x]b)\n" for n in range(30))
    reads_or_complains(text + "macro m30(x)\n    [x]\nentry interrupt\n    m0(c)\n")
    longer = "".join(f"macro m{n}(x)\n    m{n + 1}([x][x])\n" for n in range(30))
    reads_or_complains(longer + "macro m30(x)\n    [x]\nentry interrupt\n    m0(c)\n")
