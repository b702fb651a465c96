"""Problems as a person reads them in a terminal.

A problem is its code and sentence, then one line a place, indented, the places in a column of their own, and what to
do about it::

    W204 two outputs drive data[3] in the same step
      machine.py:41:9   74HCT245 U7 pin 15 (B3) shows `acc`
          show = m.chip("245", DIR=HIGH, G_n=acc_show_n, A=acc, B=data)
                 ^
      machine.py:58:1   62256 U12 pin 15 (D3) shows memory
          m.chip("62256", A=address, D=data, CE_n=LOW, OE_n=memory_show_n, WE_n=write_n)
          ^
    help: show one of them in that step

Where a place has a column, the line that stands there is quoted below it with a mark under the column; where several
stand there, once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from latchwork.base.position import NOWHERE, Position
from latchwork.problems.problem import Label, Problem, Severity

if TYPE_CHECKING:
    from rich.console import Console
    from rich.text import Text

_STYLES = {Severity.ERROR: "bold red", Severity.WARNING: "bold yellow", Severity.NOTE: "bold cyan"}
Piece = tuple[str, str]  # text and style


def plain(problem: Problem) -> str:
    """The problem as lines of plain text, without an end of line after the last."""
    return "".join(text for text, _ in pieces(problem))


def plain_all(problems: Iterable[Problem]) -> str:
    """Several problems, an empty line between them."""
    return "\n\n".join(plain(problem) for problem in problems)


def print_problems(console: Console, problems: Iterable[Problem]) -> None:
    """Several problems on a rich console, coloured where it has colours."""
    for number, problem in enumerate(problems):
        if number:
            console.print()
        console.print(_text(problem), soft_wrap=True, highlight=False)


def _text(problem: Problem) -> Text:
    from rich.text import Text

    return Text.assemble(*pieces(problem))


def pieces(problem: Problem) -> Iterator[Piece]:
    """Runs of text, each with the style it has where there are colours."""
    yield problem.code, _STYLES[problem.severity]
    yield f" {_kind(problem)}{problem.message}", "bold"
    width = max((len(shown_position(label.position)) for label in problem.labels), default=0)
    before = NOWHERE
    for label in problem.labels:
        yield from _label(label, width)
        yield from _quoted(label.position) if label.position != before else ()
        before = label.position
    if problem.help:
        yield "\nhelp: ", "bold"
        yield problem.help, ""


def _kind(problem: Problem) -> str:
    """Only what is less than an error says what it is."""
    return "" if problem.severity is Severity.ERROR else f"{problem.severity.value}: "


def _label(label: Label, width: int) -> Iterator[Piece]:
    yield "\n  ", ""
    place = shown_position(label.position)
    yield (place.ljust(width) if label.text else place), "cyan"
    if label.text:
        yield f"   {label.text}", ""


def _quoted(position: Position) -> Iterator[Piece]:
    line = position.source_line() if position.column else ""
    if not line.strip() or len(line) > 400:
        return
    gap = len(line) - len(line.lstrip())
    yield f"\n      {_printable(line.strip())}", ""
    if position.column > gap:
        yield "\n      " + " " * (position.column - 1 - gap) + "^", "bold"


def _printable(line: str) -> str:
    return "".join(letter if letter.isprintable() else " " for letter in line)


def shown_position(position: Position) -> str:
    """The place with its file as seen from this folder, where it lies below it."""
    file = shown_file(position.file)
    return str(Position(file, position.line, position.column)) if file else ""


def shown_file(file: str) -> str:
    """A file's path as seen from this folder, where it lies below it; else unchanged."""
    if not Path(file).is_absolute():
        return file
    try:
        return Path(file).relative_to(Path.cwd()).as_posix()
    except (ValueError, OSError):
        return file
