"""The pages of the catalogue as files for docs/chips/, made from the chip files and what is worked out from them."""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.chips import catalogue
from latchwork.draw.pinout import as_text
from latchwork.parts import Entry
from latchwork.reports.catalogue import FigureRow, FunctionTable, PartReport, Replacement
from latchwork.tools.catalogue.listing import family_name
from latchwork.tools.catalogue.one_part import PREFERRED, part_report

_NOTE = "<!-- Made by tools/regenerate.py from the chip's own file. Change it there. -->"


def pages() -> dict[str, str]:
    """Name of each file -> its text."""
    return {"README.md": _contents(), **{f"{file_name(entry)}.md": _page(entry) for entry in catalogue.entries()}}


def file_name(entry: Entry) -> str:
    """Two entries may have one number in different families; the first has it for its page."""
    first = next(each for each in catalogue.entries() if each.number == entry.number)
    name = entry.number if entry is first else entry.name_in(entry.families[0])
    return name.replace(" ", "-").replace("/", "-")


def _contents() -> str:
    lines = ["# The parts of the catalogue", "", _NOTE, ""]
    kinds = sorted({entry.kind for entry in catalogue.entries()})
    for kind in kinds:
        lines += [f"## {kind}", "", "| part | what it is | families |", "|---|---|---|"]
        for entry in sorted((each for each in catalogue.entries() if each.kind == kind), key=_order):
            families = " ".join(family_name(entry, family) for family in entry.families)
            lines.append(f"| [{entry.number}]({file_name(entry)}.md) | {entry.title} | {families} |")
        lines.append("")
    return "\n".join(lines)


def _order(entry: Entry) -> tuple[int, str]:
    return (int(entry.number) if entry.number.isdigit() else 10**6, entry.number)


def _page(entry: Entry) -> str:
    family = next((each for each in PREFERRED if each in entry.families), entry.families[0])
    report = part_report(entry, catalogue.find(entry.name_in(family)))
    return "\n".join([*_body(entry, report), ""])


def _body(entry: Entry, report: PartReport) -> Iterator[str]:
    yield from (f"# {entry.number}: {entry.title}", "", _NOTE, "")
    if report.families != ("",):
        yield from (f"Made in {', '.join(report.families)}.", "")
    yield from _text("What it does", report)
    yield from ("## Pins", "", "From above:", "", "```text", *as_text(entry.number, entry.pins), "```", "")
    yield from _block(report.about.get("Pins", ""))
    yield from ("## Function table", "", "Worked out from the behaviour:", "")
    for table in report.tables:
        yield from _function(table)
    yield from _text("Timing", report)
    yield from _text("Mistakes people make", report)
    if report.replacements:
        yield from ("## Near replacements", "")
        yield f"What changes is told from the {report.name}; functions were compared by giving both the same levels."
        yield ""
        yield from (_replacement(each) for each in report.replacements)
        yield ""
    yield from _figures(report.figures)
    yield from _text("Sources", report)


def _text(heading: str, report: PartReport) -> Iterator[str]:
    yield from (f"## {heading}", "")
    yield from _block(report.about.get(heading, ""))


def _block(text: str) -> Iterator[str]:
    """Text of a docstring, in which a bar or star is no markup."""
    if text:
        yield from (text.replace("|", "\\|").replace("*", "\\*").replace("_", "\\_"), "")


def _function(table: FunctionTable) -> Iterator[str]:
    if table.likewise:
        yield from (f"{table.title}, likewise {', '.join(table.likewise)}:", "")
    yield _row(table.heads)
    yield "|" + "---|" * len(table.heads)
    yield from map(_row, table.rows)
    if table.left_out:
        yield from ("", f"and {table.left_out} rows more.")
    yield ""


def _row(cells: tuple[str, ...]) -> str:
    return "| " + " | ".join(cell.replace("|", "\\|").replace("*", "\\*").replace("_", "\\_") for cell in cells) + " |"


def _replacement(each: Replacement) -> str:
    changes = "; ".join(each.changes) if each.changes else "nothing but its figures"
    return f"- **{each.number}**, {each.kind}: {changes}."


def _figures(rows: tuple[FigureRow, ...]) -> Iterator[str]:
    yield from ("## Figures", "")
    if not rows:
        yield from ("None: its times are what the builder states.", "")
        return
    heads = ("family", "figure", "from and to", "least", "typical", "most", "unit", "conditions", "had", "source")
    yield _row(heads)
    yield "|" + "---|" * len(heads)
    for row in rows:
        numbers = ("" if value is None else f"{value:g}" for value in (row.minimum, row.typical, row.maximum))
        yield _row((row.family, row.quantity, row.path, *numbers, row.unit, row.conditions, row.confidence, row.source))
    yield ""
