"""Random and mutated text: problems, never a traceback, never a hang."""

import string
from pathlib import Path

from big_programs import big_program
from hypothesis import given, settings
from hypothesis import strategies as st
from instruction_sets import TARGET

from latchwork.languages.assembly.assemble import assemble_text
from latchwork.problems import LatchworkError, Problem
from latchwork.problems.terminal import plain_all

SAMPLES = [path.read_text() for path in sorted((Path(__file__).parent / "mistakes").glob("*.asm"))] + [big_program(40)]
WORDS = sorted({word for sample in SAMPLES for word in sample.replace("\n", " \n ").split(" ") if word})
NAMED = "tests/assembly/mistakes/any.asm"
NONE_GIVEN = Problem("", "an error without problems")


def survives(text: str) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        assemble_text(text, TARGET, NAMED, most_lines=300)
    except LatchworkError as error:
        problems = error.problems or (NONE_GIVEN,)
    assert all(problem.code[:1] == "A" and problem.message for problem in problems)
    assert bool(plain_all(problems)) == bool(problems)


@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    survives(text)


@given(st.text(string.printable, max_size=200))
def test_printable_text(text: str) -> None:
    survives(text)


@settings(max_examples=200)
@given(st.lists(st.sampled_from(WORDS), max_size=60))
def test_words_of_the_language(words: list[str]) -> None:
    survives(" ".join(words))


@settings(max_examples=200)
@given(st.sampled_from(SAMPLES), st.lists(st.tuples(st.integers(0, 5000), st.integers(0, 4), st.sampled_from(WORDS))))
def test_mutated_programs(text: str, changes: list[tuple[int, int, str]]) -> None:
    for place, length, word in changes:
        at = place % (len(text) + 1)
        text = text[:at] + word + text[at + length :]
    survives(text)


def test_growth_is_bounded() -> None:
    nested = " .repeat 1000000000000\n" * 10 + " nothing\n" + " .end\n" * 10
    survives(nested)
    survives(" .fill $7fffffff\n .reserve $7fffffffffffffff\n .align $7fffffff\n .org $ffffffffff\n")
    survives(" .byte " + "-" * 1500 + "1\n .byte " + "(" * 1500 + "\n x = " + "1+" * 900 + "1\n .byte x\n")
    survives(" .byte " + "a+" * 900 + "1\na = 1")
    survives("".join(f"c{n} = c{n + 1} + 1\n" for n in range(1000)) + "c1000 = 1\n .byte c0\n")
