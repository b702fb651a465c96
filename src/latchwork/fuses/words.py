"""Logic text cut into statements and words, each with its place."""

from __future__ import annotations

import re
from dataclasses import dataclass

from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem

LONGEST_LINE = 400
MOST_LINES = 2_000

_WORD = re.compile(r"\s*(?:(#.*)|(==|!=|<=|>=|[=<>(),]|[A-Za-z_][A-Za-z0-9_]*|[0-9][A-Za-z0-9_]*))")


@dataclass(frozen=True)
class Word:
    """``text`` is empty at the end of a statement."""

    text: str
    position: Position

    @property
    def is_name(self) -> bool:
        return self.text[:1].isalpha() or self.text[:1] == "_"

    def refusal(self, code: str, message: str, help: str = "") -> LatchworkError:
        return LatchworkError(Problem(code, message, (Label(self.position),), help))

    def described(self) -> str:
        return f"`{self.text}`" if self.text else "the end of the line"


@dataclass(frozen=True)
class Line:
    """A statement: a line with the deeper ones that go on with it. ``heads``: it begins at the left edge."""

    words: tuple[Word, ...]
    heads: bool


def lines_of(text: str, name: str) -> list[Line]:
    """The statements of a text. Raises LatchworkError at a letter that has no place in it."""
    found: list[Line] = []
    depth = 0  # of the statements of this block
    rows = text.splitlines()
    if len(rows) > MOST_LINES:
        raise Word("", Position(name, MOST_LINES + 1, 1)).refusal("F205", f"a text has at most {MOST_LINES} lines")
    for number, row in enumerate(rows, 1):
        words = _words(row, name, number)
        if not words:
            continue
        indent = words[0].position.column - 1
        if indent and found and not found[-1].heads and indent > depth:
            found[-1] = Line((*found[-1].words, *words), heads=False)
            continue
        depth = indent
        found.append(Line(tuple(words), heads=indent == 0))
    return found


def _words(row: str, name: str, number: int) -> list[Word]:
    if len(row) > LONGEST_LINE:
        message = f"a line has at most {LONGEST_LINE} characters"
        raise Word("", Position(name, number, LONGEST_LINE + 1)).refusal("F201", message, "go on in a deeper line")
    row, at, found = row.rstrip(), 0, []
    while at < len(row):
        match = _WORD.match(row, at)
        if not match:
            at += len(row[at:]) - len(row[at:].lstrip())
            message = f"`{row[at]}` has no place in logic"
            raise Word("", Position(name, number, at + 1)).refusal("F201", message)
        if match[2]:
            found.append(Word(match[2], Position(name, number, match.start(2) + 1)))
        at = match.end()
    return found
