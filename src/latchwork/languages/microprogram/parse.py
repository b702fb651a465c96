"""From a microprogram's text to the expanded program: read, look up names, write out, check."""

from __future__ import annotations

import linecache
from collections.abc import Collection
from pathlib import Path

from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.flat import FlatProgram
from latchwork.languages.microprogram.layout import Lines, Source, blocks, plain_lines
from latchwork.languages.microprogram.meaning import Statement
from latchwork.languages.microprogram.names import ANYTHING, Names
from latchwork.languages.microprogram.program import flatten
from latchwork.languages.microprogram.sources import read_file
from latchwork.languages.microprogram.syntax import read_block, read_meaning


def parse_microprogram(
    source: Path | str, names: Names | Collection[str] | None = None, file: str = "microprogram"
) -> FlatProgram:
    """The expanded microprogram of a file (a Path) or of a text (a str, called ``file`` in messages).

    ``names``: what the machine has, to check against; a plain collection is what meanings may speak of.
    Raises LatchworkError with every problem found.
    """
    findings = Findings()
    start = read_file(source, None, findings) if isinstance(source, Path) else text_source(source, file)
    found, sources = _read_all(start, findings) if start else ([], [])
    program = flatten(found, _as_names(names), findings)
    findings.stop_if_any()
    return FlatProgram(
        blocks=program.blocks,
        fields=program.fields,
        instructions=program.instructions,
        rests=program.rests,
        source=start.file if start else "",
        sources=tuple(sources),
    )


def read_tree(source: Source, findings: Findings) -> list[tree.Block]:
    """The blocks of one source as they are written; includes are not followed."""
    trees = (read_block(lines, findings) for lines in blocks(source))
    return [block for block in trees if block is not None]


def meaning_of(text: str, file: str = "meaning") -> tuple[Statement, ...]:
    """The tree of a meaning's text. Raises LatchworkError."""
    findings = Findings()
    lines = [line for line in plain_lines(text) if line]
    statements = read_meaning(Lines(file, 1, tuple(lines)), findings)
    findings.stop_if_any()
    return statements


def text_source(text: str, file: str) -> Source:
    """A text that is no file; its lines can still be shown beside a problem."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    linecache.cache[file] = (len(text), None, [f"{line}\n" for line in lines], file)
    return Source(file, text)


def _as_names(names: Names | Collection[str] | None) -> Names:
    if isinstance(names, Names):
        return names
    return ANYTHING if names is None else Names(nets=frozenset(names))


def _read_all(start: Source, findings: Findings) -> tuple[list[tree.Block], list[str]]:
    """The blocks of a source and of all it includes, each file once, in the order in which they are met."""
    found: list[tree.Block] = []
    seen: dict[str, tree.Word | None] = {start.file: None}

    waiting = [iter(read_tree(start, findings))]
    while waiting:
        block = next(waiting[-1], None)
        if block is None:
            waiting.pop()
        elif not isinstance(block, tree.IncludeBlock):
            found.append(block)
        else:
            included = read_file(Path(block.path.text), block.path, findings, seen)
            if included:
                waiting.append(iter(read_tree(included, findings)))
    return found, list(seen)
