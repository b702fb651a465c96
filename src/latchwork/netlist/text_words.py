"""Words and lines of the text form: indented lines of ``keyword field=value ...``.

A value is a bare word (number, name of a choice), a quoted text, an expression (a bare word, or in round brackets,
as logic/text.py writes it) or a list in square brackets. Two blanks of indentation put a line under the one above.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field

from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem

MOST_NESTED = 6
_LINE = re.compile(r"((?:  )*)([a-z_]+)(?: |$)")
_FIELD = re.compile(r"([a-z_]+)=")
_BARE = re.compile(r"[^\s\"()\[\]=]+")
_QUOTED = re.compile(r'"(?:[^"\\\x00-\x1f]|\\.)*"')
_SURROGATE = re.compile("[\ud800-\udfff]")


@dataclass(frozen=True)
class Bare:
    """A word without quotes: a number, a choice, or an expression."""

    text: str


Word = Bare | str | list["Word"]


@dataclass
class Line:
    """A line with the lines under it."""

    keyword: str
    position: Position
    fields: dict[str, Word] = field(default_factory=dict)
    below: list[Line] = field(default_factory=list)


def quoted(text: str) -> str:
    """``text`` in quotes, on one line, whatever it holds."""
    return _SURROGATE.sub(lambda found: f"\\u{ord(found[0]):04x}", json.dumps(text, ensure_ascii=False))


def refused(code: str, message: str, position: Position, help: str = "") -> LatchworkError:
    return LatchworkError(Problem(code, message, (Label(position),), help))


def lines_of(text: str, file: str, first: int) -> list[Line]:
    """The lines of depth 0, with those under them. ``first``: number of the first line. Raises LatchworkError."""
    top: list[Line] = []
    open_lists = [top]
    for number, raw in enumerate(text.split("\n"), start=first):
        if raw.strip():
            depth, line = _line(raw, Position(file, number))
            if depth >= len(open_lists):
                raise refused("M211", "the line stands too far to the right", Position(file, number, 1))
            open_lists[depth].append(line)
            open_lists[depth + 1 :] = [line.below]
    return top


def _line(raw: str, position: Position) -> tuple[int, Line]:
    found = _LINE.match(raw)
    if not found:
        raise refused("M211", "the line does not begin with a keyword", Position(position.file, position.line, 1))
    line = Line(found[2], position)
    at = found.end()
    while at < len(raw):
        name, value, end = _field(raw, at, position)
        if name in line.fields:
            raise _at(position, at, f'"{name}" stands here twice')
        line.fields[name], at = value, end
    return len(found[1]) // 2, line


def _field(raw: str, at: int, position: Position) -> tuple[str, Word, int]:
    found = _FIELD.match(raw, at)
    if not found:
        raise _at(position, at, "a field=value is expected")
    value, end = _word(raw, found.end(), position, 0)
    if end < len(raw) and raw[end] != " ":
        raise _at(position, end, "a blank is expected")
    return found[1], value, end + 1


def _word(raw: str, at: int, position: Position, depth: int) -> tuple[Word, int]:
    start = raw[at : at + 1]
    if start == '"':
        return _text(raw, at, position)
    if start == "[":
        return _list(raw, at + 1, position, depth + 1)
    if start == "(":
        end = _closing(raw, at, position)
        return Bare(raw[at:end]), end
    found = _BARE.match(raw, at)
    if not found:
        raise _at(position, at, "a value is expected")
    return Bare(found[0]), found.end()


def _text(raw: str, at: int, position: Position) -> tuple[str, int]:
    found = _QUOTED.match(raw, at)
    try:
        return str(json.loads(found[0] if found else "")), found.end() if found else at
    except ValueError:
        raise _at(position, at, "a text in quotes does not end, or holds an unknown escape") from None


def _list(raw: str, at: int, position: Position, depth: int) -> tuple[list[Word], int]:
    if depth > MOST_NESTED:
        raise _at(position, at, "lists stand too deep in each other")
    words: list[Word] = []
    while raw[at : at + 1] != "]":
        word, at = _word(raw, at, position, depth)
        words.append(word)
        if raw[at : at + 1] == " ":
            at += 1
        elif raw[at : at + 1] != "]":
            raise _at(position, at, "a list does not end")
    return words, at + 1


def _closing(raw: str, at: int, position: Position) -> int:
    """Just behind the bracket that closes the one at ``at``."""
    depth = 0
    for end in range(at, len(raw)):
        depth += {"(": 1, ")": -1}.get(raw[end], 0)
        if not depth:
            return end + 1
    raise _at(position, at, "a bracket is not closed")


def _at(position: Position, at: int, message: str) -> LatchworkError:
    return refused("M212", message, Position(position.file, position.line, at + 1))
