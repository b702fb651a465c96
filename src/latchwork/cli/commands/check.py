"""``latchwork check [MACHINE]``"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import force_option, json_option, machine_argument, model_of, named
from latchwork.cli.show import console, print_json, working

if TYPE_CHECKING:
    from latchwork.reports.check import CheckReport


@click.command()
@machine_argument
@click.option("--sarif", metavar="FILE", type=named, help="Write the findings to a SARIF 2.1.0 log as well.")
@force_option
@json_option
def command(machine: str, sarif: str | None, force: bool, as_json: bool) -> int:
    """Check wiring, levels and microprogram against every rule.

    Exit 1: there are errors or warnings. Notes alone are well.
    """
    from latchwork.tools.rules.checking import check

    model = model_of(machine)
    with working(f"checking {machine}"):
        report = check(model)
    if sarif:
        _write_sarif(Path(sarif), report, force)
    if as_json:
        _print_json(report)
    else:
        _print(report)
    return 0 if report.good else 1


def _write_sarif(path: Path, report: CheckReport, force: bool) -> None:
    import json

    from latchwork import __version__
    from latchwork.cli.write import write
    from latchwork.problems.data import as_sarif
    from latchwork.problems.registry import titles

    log = as_sarif(report.problems, titles(), __version__)
    write(path.parent, {path.name: (json.dumps(log, indent=1) + "\n").encode()}, force)


def _print_json(report: CheckReport) -> None:
    from latchwork.problems.data import as_data

    problems = [as_data(problem) for problem in report.problems]
    counts = {"counts": report.counts, "rules": list(report.rules)}
    print_json({"command": "check", "ok": report.good, "machine": report.machine, **counts, "problems": problems})


def _print(report: CheckReport) -> None:
    from latchwork.problems.terminal import print_problems

    out = console()
    print_problems(out, report.problems)
    if report.problems:
        out.print()
    found = ", ".join(f"{number} {_plural(name, number)}" for name, number in report.counts.items() if number)
    out.print(f"{report.machine}: {found or 'nothing found'} by {len(report.rules)} rules")


def _plural(word: str, number: int) -> str:
    return word if number == 1 else f"{word}s"
