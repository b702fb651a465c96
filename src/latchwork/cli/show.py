"""How commands show what they found: for a person, or as one JSON object on standard output."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from latchwork.problems import Problem
from latchwork.problems.data import as_data

if TYPE_CHECKING:
    from rich.console import Console

MOST_PROBLEMS = 40
"""More are not shown to a person at once; --json has all."""


def console(stderr: bool = False) -> Console:
    """A rich console. Where the output is no terminal, lines are never broken or coloured."""
    from rich.console import Console

    class OurConsole(Console):
        """One that leaves it to ``cli.main`` what happens when the reader goes away."""

        def on_broken_pipe(self) -> None:
            raise BrokenPipeError

    stream = sys.stderr if stderr else sys.stdout
    width = None if stream.isatty() else 10_000
    return OurConsole(file=stream, highlight=False, markup=False, emoji=False, width=width, soft_wrap=True)


def show(report: object, *, as_json: bool, command: str, ok: bool, lines: Callable[[Console], None]) -> int:
    """Show a report; gives the exit status, 0 where ``ok``, else 1. ``lines`` prints it for a person."""
    if as_json:
        import msgspec

        print_json({"command": command, "ok": ok, **msgspec.to_builtins(report)})
    else:
        lines(console())
    return 0 if ok else 1


def print_json(data: dict[str, Any]) -> None:
    """One object on standard output."""
    ascii_only = not (sys.stdout.encoding or "").lower().startswith("utf")
    sys.stdout.write(json.dumps(data, indent=1, ensure_ascii=ascii_only) + "\n")


def show_problems(problems: Iterable[Problem], as_json: bool, command: str = "") -> None:
    """Problems that make the input or the call unusable: to standard error, or as the JSON object."""
    found = list(problems)
    if as_json:
        print_json({"command": command, "ok": False, "problems": [as_data(problem) for problem in found]})
        return
    from latchwork.problems.terminal import print_problems

    out = console(stderr=True)
    print_problems(out, found[:MOST_PROBLEMS])
    if len(found) > MOST_PROBLEMS:
        out.print(f"\n{counted(len(found) - MOST_PROBLEMS, 'more problem')}; mend these first, or see all with --json")


def counted(number: int, noun: str) -> str:
    """ "1 clock", "2 clocks"."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def table(heads: Sequence[str], rows: Iterable[Sequence[object]], right: Sequence[int] = ()) -> list[str]:
    """Columns of text with two spaces between them; those with an index in ``right`` stand to the right."""
    cells = [[str(cell) for cell in row] for row in (heads, *rows)]
    widths = [max(len(row[column]) for row in cells) for column in range(len(heads))]
    return [_row(row, widths, right) for row in cells]


def _row(row: list[str], widths: list[int], right: Sequence[int]) -> str:
    placed = [
        cell.rjust(width) if column in right else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(placed).rstrip()


@contextmanager
def working(what: str) -> Iterator[None]:
    """Says on a terminal's standard error what is being done, once it has taken a second."""
    if not sys.stderr.isatty():
        yield
        return
    from threading import Timer

    status = console(stderr=True).status(what)
    timer = Timer(1.0, status.start)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        status.stop()
