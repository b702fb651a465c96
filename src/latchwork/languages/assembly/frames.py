"""Where a statement stands: its line, the uses of macros that led to it, its scope; and text put into bodies."""

from __future__ import annotations

import re
from collections.abc import Container
from dataclasses import dataclass
from typing import NamedTuple

from latchwork.base.position import Position
from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.errors import Refusal
from latchwork.languages.assembly.expressions import whole
from latchwork.languages.assembly.scan import Line, scan_line, without_comment
from latchwork.problems import Label, Problem, Severity


@dataclass(frozen=True)
class Frame:
    """A file, a use of a macro, or one turn of a ``.repeat``. ``texts``: what is put in for which name."""

    depth: int = 0
    texts: tuple[tuple[str, str], ...] = ()
    pattern: re.Pattern[str] | None = None
    used: Label | None = None  # where the macro is used, the file included
    outer: Frame | None = None

    def line(self, line: Line) -> Line:
        """The line with the texts put in."""
        return line if self.pattern is None else _put_in(line, self.pattern, dict(self.texts))

    def trail(self) -> tuple[Label, ...]:
        """The uses that led here, the nearest first; of a long chain only the nearest and the first."""
        found: list[Label] = []
        frame: Frame | None = self
        while frame:
            if frame.used and frame.used not in found[-1:]:
                found.append(frame.used)
            frame = frame.outer
        return tuple(found if len(found) <= 4 else [*found[:3], found[-1]])


class Where(NamedTuple):
    """A statement's place. ``scope``: the label to which ``.name`` belongs."""

    line: Line
    frame: Frame
    scope: str

    def position(self, column: int = 0) -> Position:
        return self.line.position(column)

    def problem(self, refusal: Refusal, severity: Severity = Severity.ERROR) -> Problem:
        """The refusal as a problem of this place."""
        label = Label(self.position(refusal.column))
        labels = (label, *refusal.labels, *self.frame.trail())
        return Problem(refusal.code, refusal.message, labels, refusal.help, severity)


def inner(outer: Frame, texts: dict[str, str], used: Label | None) -> Frame:
    """A frame inside of another; inside of a macro the names of the outer one still hold for ``.repeat``."""
    return Frame(outer.depth + 1, tuple(texts.items()), _pattern(texts), used, outer)


def _pattern(texts: dict[str, str]) -> re.Pattern[str] | None:
    if not texts:
        return None
    names = "|".join(re.escape(name) for name in texts)
    return re.compile(rf"{grammar.QUOTED}|(?<![\w.$%])({names})(?!\w)", re.ASCII)


_BEGIN = re.compile(rf"\s*(?:{grammar.NAME}\s*:\s*)*", re.ASCII)


def _put_in(line: Line, pattern: re.Pattern[str], texts: dict[str, str]) -> Line:
    code = without_comment(line.text)
    result: list[str] = []
    pieces: list[tuple[int, int, int, int]] = []
    at = 0
    length = 0
    for found in pattern.finditer(code):
        if not found[1]:
            continue
        before = code[at : found.start()]
        text = texts[found[1]]
        if _BEGIN.fullmatch("".join([*result, before])):
            text = text.strip(grammar.OPEN + grammar.CLOSE)
        start = length + len(before) + 1
        result += [before, text]
        length += len(before) + len(text)
        pieces.append((start, length + 1, found.start() + 1, found.end() + 1))
        at = found.end()
    if not pieces:
        return line
    whole = "".join([*result, code[at:]])
    if len(whole) > grammar.LONGEST_LINE:
        message = (
            f"the line has {len(whole)} characters once the arguments stand in it; {grammar.LONGEST_LINE} is the most"
        )
        raise Refusal("A104", message, pieces[0][0])
    return scan_line(line.file, line.number, whole)._replace(pieces=tuple(pieces))


_LOCAL = re.compile(rf"{grammar.QUOTED}|(?<![\w.\x03])(\.[A-Za-z_]\w*)", re.ASCII)


def argument(text: str, scope: str, reserved: Container[str]) -> str:
    """An argument as it is put into a body: its local labels are those of the place of use, and if it is an
    expression it is held together."""
    bound = _LOCAL.sub(lambda found: f"{scope}{found[0]}" if found[1] else found[0], text) if "." in text else text
    if grammar.name.fullmatch(bound) or bound.isdigit():
        return bound
    try:
        whole(bound, 1, reserved)
    except Refusal:
        return bound
    return f"{grammar.OPEN}{bound}{grammar.CLOSE}"
