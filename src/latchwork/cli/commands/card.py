"""``latchwork card [MACHINE]``"""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, machine_argument, model_of
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from rich.console import Console

    from latchwork.reports.card import Card, CardLine


@click.command()
@machine_argument
@json_option
def command(machine: str, as_json: bool) -> int:
    """Show every instruction of the machine with its code, clocks and meaning."""
    from latchwork.tools.card.report import card

    report = card(model_of(machine))
    return show(report, as_json=as_json, command="card", ok=True, lines=lambda console: _lines(console, report))


def _lines(console: Console, report: Card) -> None:
    for line in table(["instruction", "code", "clocks", "meaning"], map(_row, report.lines)):
        console.print(line)
    console.print()
    for line in table(["operand", "what it may be"], ((each.name, each.what) for each in report.operands)):
        console.print(line)


def _row(line: CardLine) -> list[str]:
    least, most = line.clocks
    return [line.form, " ".join(line.code), str(least) if least == most else f"{least}-{most}", line.meaning]
