"""Every message of the microprogram language, beside the text that provokes it.

A case is ``mistakes/NAME.micro`` with its full messages in ``NAME.txt``; comment lines ``# lines:``, ``# conditions:``
and ``# nets:`` say what the machine has. There is no outside reference for our own wording.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from latchwork.languages.microprogram.errors import TITLES
from latchwork.languages.microprogram.names import Names
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.problems import LatchworkError, Problem

FOLDER = Path(__file__).parent / "mistakes"
CASES = sorted(path.stem for path in FOLDER.glob("*.micro"))


def names_in(text: str) -> Names:
    found = {kind: frozenset(words.split()) for kind, words in re.findall(r"^# (\w+): (.*)$", text, re.MULTILINE)}
    return Names(found.get("nets"), found.get("lines"), found.get("conditions"))


def shown(problem: Problem) -> str:
    lines = [f"{problem.code} {problem.message}"]
    for label in problem.labels:
        place = f"{Path(label.position.file).name}:{label.position.line}:{label.position.column}"
        lines += [f"  {place}  {label.text}".rstrip(), f"    | {label.position.source_line()}"[:100].rstrip()]
    return "\n".join([*lines, f"help: {problem.help}"] if problem.help else lines)


def messages(path: Path) -> str:
    with pytest.raises(LatchworkError) as raised:
        parse_microprogram(path, names_in(path.read_text()))
    return "\n\n".join(shown(problem) for problem in raised.value.problems).replace(f"{path.parent}/", "") + "\n"


@pytest.mark.parametrize("case", CASES)
def test_message(case: str) -> None:
    assert messages(FOLDER / f"{case}.micro") == (FOLDER / f"{case}.txt").read_text()


def test_every_code_has_a_case() -> None:
    text = "".join((FOLDER / f"{case}.txt").read_text() for case in CASES)
    shown_codes = set(re.findall(r"^(U\d{3}) ", text, re.MULTILINE))
    assert {code for code in TITLES if code < "U200"} == shown_codes
