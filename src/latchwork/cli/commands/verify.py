"""``latchwork verify [MACHINE] FILE``"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, model_of, program_option, split, words_argument
from latchwork.cli.show import counted, show

if TYPE_CHECKING:
    from rich.console import Console

    from latchwork.reports.images import ReadBackReport


@click.command()
@words_argument("[MACHINE] FILE")
@click.option("--chip", default="", metavar="NAME", help="The chip it was read from, such as U21.")
@program_option
@json_option
def command(words: tuple[str, ...], chip: str, program: str | None, as_json: bool) -> int:
    """Compare FILE, read back from a chip on the bench, with what the chip should hold.

    Without --chip it is the chip after which FILE is named, else the one that it fits best. Exit 1: they differ.
    """
    from latchwork.tools.images.readback import verify

    machine, file = split(words, "the file that was read back")
    report = verify(model_of(machine, program), Path(file), chip)
    return show(
        report, as_json=as_json, command="verify", ok=report.good, lines=lambda console: _lines(console, report)
    )


def _lines(console: Console, report: ReadBackReport) -> None:
    chip = f"{report.reference} ({report.part} {report.label})"
    if report.good:
        console.print(f"{report.file} is what {chip} should hold, all {report.size} bytes")
        return
    console.print(f"{report.file} differs from what {chip} should hold in {report.differing} of {report.size} bytes")
    for each in report.first:
        console.print(f"  {each.address:04X}   should be {each.should:02X}, is {each.found:02X}")
    for sentence in report.explanation:
        console.print(f"explained: {sentence}")
    if report.explanation and report.explained < report.differing:
        console.print(f"that leaves {counted(report.differing - report.explained, 'byte')} unexplained")
    best = report.best[0]
    if best.reference != report.reference:
        console.print(f"it fits {best.reference} better, only {best.differing} of its bytes differ")
