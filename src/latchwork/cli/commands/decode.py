"""``latchwork decode [MACHINE] FILE``"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, model_of, split, words_argument
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from rich.console import Console

    from latchwork.reports.images import DecodedRow, DecodeReport


@click.command()
@words_argument("[MACHINE] FILE")
@click.option("--chip", default="", metavar="NAME", help="The chip whose image it is, such as U21.")
@json_option
def command(words: tuple[str, ...], chip: str, as_json: bool) -> int:
    """Show the image of one control ROM as instructions, steps and the control lines that this chip sets.

    Exit 1: it is not what the microprogram says.
    """
    from latchwork.tools.images.decode import decode

    machine, file = split(words, "the control image")
    report = decode(model_of(machine), Path(file), chip)
    good = not report.differing
    return show(report, as_json=as_json, command="decode", ok=good, lines=lambda console: _lines(console, report))


def _lines(console: Console, report: DecodeReport) -> None:
    console.print(f"{report.file} as {report.reference} ({report.part} {report.label})")
    console.print(f"this chip alone decides: {', '.join(report.decided) or 'no line'}")
    for line in table(["block", "step", "when", "address", "lines"], map(_row, report.rows), right=(1,)):
        console.print(line)
    if report.differing:
        console.print(f"{_rows(report.differing)} not what the microprogram says")


def _rows(number: int) -> str:
    return "1 row is" if number == 1 else f"{number} rows are"


def _row(row: DecodedRow) -> list[object]:
    when = " ".join(name if level else f"not {name}" for name, level in row.conditions)
    lines = ", ".join(row.lines) or "-"
    if not row.same:
        lines += f"   (should be: {', '.join(row.should) or '-'})"
    return [row.block, row.step, when, f"{row.address:04X}", lines]
