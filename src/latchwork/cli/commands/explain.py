"""``latchwork explain CODE``"""

from __future__ import annotations

import click

from latchwork.cli.options import json_option
from latchwork.cli.show import show


@click.command()
@click.argument("code")
@json_option
def command(code: str, as_json: bool) -> int:
    """Tell more about the code of a problem, such as W204."""
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
    return title, page(code.upper())
