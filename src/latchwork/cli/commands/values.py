"""``latchwork values SUM NAME=VALUE ...``"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from latchwork.reports.values import Amount, ValuesReport


@click.command()
@click.argument("name", metavar="SUM")
@click.argument("words", nargs=-1, metavar="[NAME=VALUE]...")
@json_option
def command(name: str, words: tuple[str, ...], as_json: bool) -> int:
    """Do a small sum: astable, pulse, rc, reset, lamp, pull or divider.

    \b
    latchwork values astable ra=10k rb=47k c=10u      a 555 that swings
    latchwork values pulse r=100k c=1u                a 555 that gives a pulse
    latchwork values rc r=10k c=100n                  a resistor and a capacitor
    latchwork values reset r=47k c=10u                a reset into a Schmitt input
    latchwork values lamp current=3m forward=2        the resistor of a lamp
    latchwork values pull low=1.2m inputs=60u sink=8m the range of a pull-up
    latchwork values divider crystal=4M clock=9600    how far to divide a crystal
    """
    from latchwork.tools.values.asking import asked

    report = asked(name, words)
    text = "\n".join(_lines(report))
    return show(report, as_json=as_json, command="values", ok=True, lines=lambda out: out.print(text))


def _lines(report: ValuesReport) -> Iterator[str]:
    given = ", ".join(f"{each.name} {_written(each)}" for each in report.given)
    yield f"{report.sum}: {given}"
    yield from ("  " + line for line in table(("", ""), [(each.name, _written(each)) for each in report.found])[1:])
    yield f"by {report.formula} ({report.source})"
    yield from report.notes


def _written(amount: Amount) -> str:
    from latchwork.tools.values.series import written

    return written(amount.value, amount.unit)
