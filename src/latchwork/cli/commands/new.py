"""``latchwork new NAME``"""

from __future__ import annotations

import re
from pathlib import Path

import click

from latchwork.cli.options import json_option
from latchwork.cli.show import show


@click.command()
@click.argument("name")
@json_option
def command(name: str, as_json: bool) -> int:
    """Begin a machine of your own in the new folder NAME: small, running, with comments that teach."""
    from latchwork.cli.write import write
    from latchwork.reports.started import Started

    folder = _free(Path(name))
    files = _template(folder.name)
    write(folder, files)
    report = Started(folder.name, str(folder), tuple(files))
    lines = [f"{folder} is a machine: {', '.join(sorted(files))}", f"next: latchwork check {folder}"]
    return show(report, as_json=as_json, command="new", ok=True, lines=lambda out: out.print("\n".join(lines)))


def _free(folder: Path) -> Path:
    from latchwork.problems import LatchworkError, Problem

    if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", folder.name):
        hint = "use letters, digits and underscores, a letter first"
        raise LatchworkError(Problem("C107", f'"{folder.name}" is no name for a machine', help=hint))
    if folder.exists():
        raise LatchworkError(Problem("C106", f'"{folder}" is there already', help="choose another name"))
    return folder


def _template(name: str) -> dict[str, bytes]:
    """The files of the template; NAME in a file's name or text becomes the machine's name."""
    from importlib.resources import files

    entries = sorted(files("latchwork").joinpath("templates/first").iterdir(), key=lambda entry: entry.name)
    return {
        entry.name.replace("NAME", name): entry.read_text(encoding="utf-8").replace("NAME", name).encode()
        for entry in entries
        if entry.is_file()
    }
