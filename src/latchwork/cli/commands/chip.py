"""``latchwork chip NAME``"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from textwrap import indent
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import force_option, json_option, model_of
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from latchwork.parts import Part
    from latchwork.reports.catalogue import FunctionTable, PartReport

own_option = click.option("--machine", metavar="MACHINE", help="Also look among the parts of this machine's own.")


def own_parts(machine: str | None) -> tuple[Part, ...]:
    """The parts of a machine, none where it is left out. Raises LatchworkError."""
    return model_of(machine).netlist.parts if machine else ()


@click.command()
@click.argument("name")
@own_option
@click.option("--svg", metavar="FILE", help="Draw the pinout into this file.")
@click.option("--all", "every", is_flag=True, help="Show the figures of all families.")
@force_option
@json_option
def command(name: str, machine: str | None, *, svg: str | None, every: bool, force: bool, as_json: bool) -> int:
    """Tell what a part does, its pins, function table, figures, mistakes people make and near replacements.

    NAME is a full name (74HC161, 28C256) or a number alone (161).
    """
    from latchwork.cli.write import write
    from latchwork.draw.pinout import as_svg, as_text
    from latchwork.tools.catalogue.one_part import named_part, part_report

    entry, part = named_part(name, own_parts(machine))
    report = part_report(entry, part)
    if svg:
        path = Path(svg)
        write(path.parent, {path.name: as_svg(part.name, part.title, part.pins).encode()}, force)
    text = "\n".join(_lines(report, as_text(part.name, part.pins), every))
    return show(report, as_json=as_json, command="chip", ok=True, lines=lambda out: out.print(text))


def _lines(report: PartReport, drawing: list[str], every: bool) -> Iterator[str]:
    yield f"{report.name}: {report.title}"
    if report.families != ("",):
        yield f"made in {', '.join(report.families)}"
    yield from _section("What it does", report.about.get("What it does", ""))
    yield ""
    yield from drawing
    for part in report.tables:
        yield ""
        yield from function_lines(part)
    yield from _section("Timing", report.about.get("Timing", ""))
    yield ""
    yield from _figures(report, every)
    yield from _section("Mistakes people make", report.about.get("Mistakes people make", ""))
    yield from _replacements(report)
    yield from _section("Sources", report.about.get("Sources", ""))


def _section(heading: str, text: str) -> Iterator[str]:
    if text:
        yield ""
        yield heading
        yield indent(text, "  ")


def function_lines(part: FunctionTable) -> Iterator[str]:
    """A function table, as it is worked out."""
    likewise = f" (likewise {', '.join(part.likewise)})" if part.likewise else ""
    yield f"Function of {part.title}{likewise}"
    yield from ("  " + line for line in table(part.heads, part.rows))
    if part.left_out:
        yield f"  and {part.left_out} rows more"


def _figures(report: PartReport, every: bool) -> Iterator[str]:
    from latchwork.cli.figures import values

    shown = [row for row in report.figures if every or row.family == report.here]
    others = len(report.figures) - len(shown)
    yield "Figures" + (f" ({others} more of other families: --all)" if others else "") + ("" if shown else ": none")
    rows = [
        (row.family, row.quantity, row.path, *values(row), row.unit, row.conditions, row.confidence, row.source)
        for row in shown
    ]
    heads = ("family", "figure", "from and to", "least", "typical", "most", "unit", "conditions", "had", "source")
    if rows:
        yield from ("  " + line for line in table(heads, rows, right=(3, 4, 5)))


def _replacements(report: PartReport) -> Iterator[str]:
    if not report.replacements:
        return
    yield ""
    yield "Near replacements"
    for kind in dict.fromkeys(each.kind for each in report.replacements):
        yield f"  {kind}"
        for each in report.replacements:
            if each.kind == kind:
                yield f"    {each.number}: {_changes(each.changes)}"


def _changes(changes: Sequence[str]) -> str:
    return "; ".join(changes) if changes else "nothing but its figures"
