"""Lines of text to statements: labels, first word, the rest. The patterns stand in ``grammar``."""

from __future__ import annotations

from typing import NamedTuple

from latchwork.base.position import Position
from latchwork.languages.assembly import grammar


class Line(NamedTuple):
    """A line split up. ``rest``: what follows the first word, without comment; it begins at ``column`` (from 1).

    ``pieces``: where a macro put text in: (start, end) here and (start, end) in the file, columns from 1.
    """

    file: str
    number: int
    text: str
    labels: tuple[tuple[str, int], ...]  # with their columns
    word: str
    word_column: int
    rest: str
    column: int
    pieces: tuple[tuple[int, int, int, int], ...] = ()

    def position(self, column: int = 0) -> Position:
        """The place of a column in the file, through what a macro put in."""
        shift = 0
        for start, end, written, written_end in self.pieces:
            if start <= column < end:
                return Position(self.file, self.number, written)
            if column >= end:
                shift = written_end - end
        return Position(self.file, self.number, column + shift if column else 0)


def scan(file: str, text: str) -> list[Line]:
    """All lines of a file."""
    return [scan_line(file, number, line) for number, line in enumerate(text.removesuffix("\n").split("\n"), start=1)]


def scan_line(file: str, number: int, text: str) -> Line:
    """One line."""
    code = without_comment(text)
    found = grammar.line.match(code)
    assert found  # the pattern takes anything
    labels: list[tuple[str, int]] = []
    while found[1]:
        labels.append((found[1], found.start(1) + 1))
        found = grammar.line.match(code, code.index(":", found.end(1)) + 1)
        assert found
    word, rest = found[2] or "", found[3]
    return Line(file, number, text, tuple(labels), word, found.start(2) + 1, rest, found.start(3) + 1)


def without_comment(text: str) -> str:
    """The line's code, without white space at its end."""
    if ";" not in text:
        return text.rstrip()
    if '"' not in text and "'" not in text:
        return text[: text.index(";")].rstrip()
    found = grammar.code.match(text)
    return found[0].rstrip() if found else text


def split(text: str) -> list[tuple[str, int]]:
    """Arguments between commas that stand outside of quotes and brackets, each with its place in ``text`` (from 0).

    No text, no arguments.
    """
    if not text:
        return []
    depth, start, found = 0, 0, []
    for piece in grammar.argument.finditer(text):
        mark = piece[0]
        if mark in ("(", "["):
            depth += 1
        elif mark in (")", "]"):
            depth -= 1
        elif mark == "," and depth <= 0:
            found.append(_trimmed(text, start, piece.start()))
            start = piece.end()
    return [*found, _trimmed(text, start, len(text))]


def _trimmed(text: str, start: int, end: int) -> tuple[str, int]:
    piece = text[start:end]
    return piece.strip(), start + len(piece) - len(piece.lstrip())
