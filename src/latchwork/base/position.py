"""Where something was written: file, line and column, and the text that stands there."""

from __future__ import annotations

import linecache
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Position:
    """A place in a source file. Lines and columns count from 1; 0 means unknown."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        parts = [self.file, *(str(number) for number in (self.line, self.column) if number)]
        return ":".join(parts)

    def source_line(self) -> str:
        """The text of the line without its end, or an empty string when it can't be read."""
        if not self.line:
            return ""
        linecache.checkcache(self.file)
        return linecache.getline(self.file, self.line).rstrip("\n")


NOWHERE = Position("")
