"""Comments taken out and blocks cut apart, before the grammar sees a line.

A block begins at the left edge; the indented lines below belong to it. ``#`` begins a comment where a blank,
another ``#`` or the end of the line follows it, or where nothing but blanks stands before it, so that ``load #n``
needs no quoting.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

LONGEST_LINE = 400
_COMMENT = re.compile(r'("[^"]*")|^[ \t]*#.*|#(?=[ \t#]|$).*')


@dataclass(frozen=True)
class Source:
    """A file: its name as positions show it, and its text."""

    file: str
    text: str


@dataclass(frozen=True)
class Lines:
    """The lines of one block without comments; ``first`` is the number of the first one, from 1."""

    file: str
    first: int
    lines: tuple[str, ...]


def plain_lines(text: str) -> list[str]:
    """The lines of a text, whatever ends them, without comments and trailing blanks; no line is left out."""
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return [_COMMENT.sub(lambda found: found[1] or "", line).rstrip() for line in lines]


def blocks(source: Source) -> list[Lines]:
    """The blocks of a source; the first one may be indented, which is for the caller to complain about."""
    lines = plain_lines(source.text)
    starts = [index for index, line in enumerate(lines) if line and line[0] not in " \t"]
    first = next((index for index, line in enumerate(lines) if line), len(lines))
    if first < len(lines) and first not in starts:
        starts.insert(0, first)
    return [Lines(source.file, start + 1, tuple(lines[start:end])) for start, end in pairwise([*starts, len(lines)])]
