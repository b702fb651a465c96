"""One block of lines to its syntax tree, through lark; what can't be read becomes a problem, line by line."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from latchwork.base.position import Position
from latchwork.languages.letters import foreign
from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.errors import Findings, near
from latchwork.languages.microprogram.layout import LONGEST_LINE, Lines
from latchwork.languages.microprogram.meaning import Statement
from latchwork.languages.microprogram.wording import expectation

if TYPE_CHECKING:
    from lark import Lark
    from lark.exceptions import UnexpectedInput

BLOCKS = ("operand", "field", "rest", "shared", "macro", "instruction", "entry", "other", "word", "include")
_MOST_RETRIES = 10
_QUOTED = re.compile(r'"[^"]*"')


@cache
def grammar() -> Lark:
    """The parser made from ``grammar.lark``."""
    from lark import Lark

    text = files(__package__).joinpath("grammar.lark").read_text(encoding="utf-8")
    return Lark(text, parser="lalr", start=["block", "meaning_text"])


def read_block(lines: Lines, findings: Findings) -> tree.Block | None:
    """The tree of a block; None where not even its first line says what it declares."""
    if _strange_letters(lines, 0, findings) or not _begins_well(lines, findings):
        return None
    lines, sound = _without_long_lines(lines, findings)
    strange = [index for index in range(1, len(lines.lines)) if _strange_letters(lines, index, findings)]
    for index in strange:
        lines, sound = _without(lines, index), False
    for _ in range(_MOST_RETRIES):
        found = _attempt(lines, findings, "block")
        if not isinstance(found, int):
            return found if sound else _broken(lines)
        sound = False
        if found == 0:
            break
        lines = _without(lines, found)
    return _broken(lines)


def read_meaning(lines: Lines, findings: Findings) -> tuple[Statement, ...]:
    """The statements of a meaning's lines."""
    statements: list[Statement] = []
    for offset, line in enumerate(lines.lines):
        found = _attempt(Lines(lines.file, lines.first + offset, (line,)), findings, "meaning_text")
        statements.extend(() if isinstance(found, int) else found)
    return tuple(statements)


def _attempt(lines: Lines, findings: Findings, start: str) -> Any:
    """What the lines hold, or the index of a line that can't be read, which is then a problem.

    Index 0, the head of the block, also stands for a head that ends too early."""
    from lark.exceptions import UnexpectedInput

    from latchwork.languages.microprogram.build import Builder

    try:
        return Builder(lines).transform(grammar().parse("\n".join(lines.lines) + "\n", start=start))
    except UnexpectedInput as error:
        return _complain(lines, error, findings)


def _complain(lines: Lines, error: UnexpectedInput, findings: Findings) -> int:
    index, column = _place(lines, error)
    line = lines.lines[index]
    if re.match(r"\w\w", line[column - 2 : column]) and column > 1:  # in the middle of a word
        column -= len(re.findall(r"\w*$", line[: column - 1])[0])
    found = re.match(r"\w+|\S", line[column - 1 :])
    expected = _expected(error)
    said = expectation(lines.lines, index, column, found[0] if found else "", expected)
    position = Position(lines.file, lines.first + index, column)
    findings.add("U101", said.message, position, help=said.help)
    return 0 if "_CODE" in expected else index  # a head that is not complete: nothing below it can be read


def _place(lines: Lines, error: UnexpectedInput) -> tuple[int, int]:
    """Index of the line and column where reading stopped; an end of line belongs to the line that ends."""
    index = error.line - 1 if error.line and error.line > 0 else len(lines.lines)
    if index < len(lines.lines) and lines.lines[index].strip():
        return index, error.column
    last = max(i for i, line in enumerate(lines.lines[: index + 1]) if line.strip())
    return last, len(lines.lines[last]) + 1


def _expected(error: UnexpectedInput) -> frozenset[str]:
    names = getattr(error, "accepts", None) or getattr(error, "allowed", None) or getattr(error, "expected", None)
    return frozenset(names or ())


def _begins_well(lines: Lines, findings: Findings) -> bool:
    line = lines.lines[0]
    first = re.match(r"\w+|\S", line.lstrip())
    word = first[0] if first else ""
    position = Position(lines.file, lines.first, len(line) - len(line.lstrip()) + 1)
    if line[0] in " \t":
        findings.add(
            "U102", "an indented line before the first block", position, help="a block begins at the left edge"
        )
        return False
    if word in BLOCKS:
        return True
    hint = near(word, BLOCKS) or "lines inside a block are indented; only the first line of a block is not"
    findings.add("U102", f"no block begins with `{word}`", position, help=hint)
    return False


def _without_long_lines(lines: Lines, findings: Findings) -> tuple[Lines, bool]:
    long = [index for index, line in enumerate(lines.lines) if len(line) > LONGEST_LINE]
    for index in long:
        findings.add(
            "U104",
            f"this line has {len(lines.lines[index])} characters; {LONGEST_LINE} is the most",
            Position(lines.file, lines.first + index, LONGEST_LINE + 1),
            help="a list may go on in the next line after a comma; a meaning may have several `meaning` lines",
        )
    kept = tuple("" if index in long and index else line[:LONGEST_LINE] for index, line in enumerate(lines.lines))
    return replace(lines, lines=kept), not long


def _strange_letters(lines: Lines, index: int, findings: Findings) -> bool:
    """Whether a line has letters that no word may have, which is a problem then."""
    line = lines.lines[index]
    found = None if line.isascii() else foreign(_QUOTED.sub(_blank, line), "A to Z, a to z, digits and `_`")
    if found:
        position = Position(lines.file, lines.first + index, found.start + 1)
        findings.add("U101", found.message, position, help=found.help)
    return found is not None


def _blank(found: re.Match[str]) -> str:
    return " " * len(found[0])


def _without(lines: Lines, index: int) -> Lines:
    return replace(lines, lines=(*lines.lines[:index], "", *lines.lines[index + 1 :]))


def _broken(lines: Lines) -> tree.BrokenBlock:
    words = re.match(r"(\w+)[ \t]*(\w*)", lines.lines[0])
    kind, name = (words[1], words[2]) if words else ("", "")
    return tree.BrokenBlock(kind, tree.Word(name, Position(lines.file, lines.first, len(kind) + 2)))
