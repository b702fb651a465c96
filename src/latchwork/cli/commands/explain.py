"""``latchwork explain CODE``"""

from __future__ import annotations

import click

from latchwork.cli.options import json_option
from latchwork.cli.show import show

AREAS = {
    "M": "A mistake in machine.py, or in the netlist of a saved machine. The problem names the line that wrote it,\n"
    "what stands there and what would fit. docs/machine-file.md tells how a machine is described.",
    "U": "A mistake in the microprogram, or something that it asks of the wiring and the wiring can't give. The\n"
    "problem names file, line and column. docs/microprogram.md is the page of the language.",
    "A": "A mistake in an assembly program. The problem names file, line and column. docs/assembly.md is the page\n"
    "of the language; `latchwork card` lists the instructions of the machine.",
    "I": "Something about ROM images, written or read back. `latchwork images --help` and `latchwork verify\n"
    "--help` tell what these commands take.",
    "F": "Something about programmable logic: a fuse file, logic written as text, or what a device can't hold. The\n"
    "problem names file, line and column. docs/programmable-logic.md is the page about it.",
    "R": "Something about running a program or about what a machine has to offer. `latchwork run --help` tells\n"
    "what can be asked of a run.",
    "W": "A rule of `latchwork check`.",
    "C": "A mistake in the call, or a file that can't be read or written. `latchwork --help` lists the commands,\n"
    "and each has a --help of its own.",
}
"""What is told of codes that have no page of their own, by their first letter."""


@click.command()
@click.argument("code")
@json_option
def command(code: str, as_json: bool) -> int:
    """Explain the code of a problem, such as W204."""
    from latchwork.reports.explanation import Explanation

    title, text = _found(code)
    report = Explanation(code.upper(), title, text)
    lines = [f"{report.code} {report.title}", *(["", report.text] if report.text else [])]
    return show(report, as_json=as_json, command="explain", ok=True, lines=lambda out: out.print("\n".join(lines)))


def _found(code: str) -> tuple[str, str]:
    from latchwork.problems import LatchworkError, Problem
    from latchwork.problems.registry import near, page, titles

    title = titles().get(code.upper())
    if title is None:
        others = near(code)
        hint = f"near it are {', '.join(others)}" if others else "a code is a letter and three digits"
        raise LatchworkError(Problem("C105", f'no problem has the code "{code}"', help=hint))
    return title, _without_title(page(code.upper())) or AREAS[code.upper()[0]]


def _without_title(text: str) -> str:
    return text.partition("\n")[2].strip("\n").replace("::\n", ":\n")
