"""``latchwork fuses FILE``"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import force_option, json_option, named
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from rich.console import Console

    from latchwork.reports.fuses import FusesReport


@click.command()
@click.argument("file", type=named)
@click.option("--out", metavar="FILE", type=named, help="The fuse file to write; FILE with .jed if left out.")
@force_option
@json_option
def command(*, file: str, out: str | None, force: bool, as_json: bool) -> int:
    """Turn FILE, the logic of a programmable device (16V8, 20V8, 22V10), into the fuse file that burns it.

    Where FILE is a fuse file, ending in .jed, its logic is shown, and nothing is written without --out.
    """
    path = Path(file)
    found = _read(path, out, force) if path.suffix.lower() == ".jed" else _made(path, out, force)
    return show(found, as_json=as_json, command="fuses", ok=True, lines=lambda console: _lines(console, found))


def _made(path: Path, out: str | None, force: bool) -> FusesReport:
    from latchwork.cli.write import write
    from latchwork.tools.fuses.made import made

    report, content = made(path)
    target = Path(out) if out else path.with_suffix(".jed")
    write(target.parent, {target.name: content}, force)
    return replace(report, written=str(target))


def _read(path: Path, out: str | None, force: bool) -> FusesReport:
    from latchwork.cli.write import write
    from latchwork.tools.fuses.readback import readback

    report = readback(path)
    if out:
        write(Path(out).parent, {Path(out).name: report.text.encode()}, force)
    return replace(report, written=out or "")


def _lines(console: Console, report: FusesReport) -> None:
    mode = f", {report.mode} mode" if report.mode else ""
    console.print(f"{report.device}{mode}, {report.fuses} fuses, checksum {report.checksum}")
    rows = [
        [each.name, each.pin, each.shows, f"{each.terms} of {each.there}", "high" if each.high else "low"]
        for each in report.outputs
    ]
    for line in table(["output", "pin", "shows", "terms", "they say when it is"], rows, right=(1,)):
        console.print(line)
    if report.text and not report.written:
        console.print(f"\n{report.text.rstrip()}")
    if report.written:
        console.print(f"written to {report.written}")
