"""``latchwork chips [WORDS]``"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import click

from latchwork.cli.options import json_option, unusable, words_argument
from latchwork.cli.show import show, table

if TYPE_CHECKING:
    from latchwork.reports.catalogue import CatalogueReport, FigureRow, MemoryReport


@click.command()
@words_argument("[WORDS]...")
@click.option("--kind", default="", metavar="KIND", help="Only parts of this kind.")
@click.option("--family", metavar="FAMILY", help="Only parts made in this family: LS, HCT, TTL, ...")
@click.option("--memory", is_flag=True, help="List the figures from memory instead, with their share of all figures.")
@json_option
def command(words: tuple[str, ...], kind: str, family: str | None, memory: bool, as_json: bool) -> int:
    """List the parts of the catalogue, or those that fit all WORDS: numbers, families, or what a part is, such as
    "4-bit counter"."""
    from latchwork.tools.catalogue.figures import memory_report
    from latchwork.tools.catalogue.listing import listing

    if memory:
        recalled = memory_report()
        text = "\n".join(_memory_lines(recalled))
        return show(recalled, as_json=as_json, command="chips", ok=True, lines=lambda out: out.print(text))
    report = listing(words, _kind(kind), _family(family))
    text = "\n".join(_lines(report))
    return show(report, as_json=as_json, command="chips", ok=report.found > 0, lines=lambda out: out.print(text))


def _kind(kind: str) -> str:
    from latchwork.chips import catalogue

    kinds = sorted({entry.kind for entry in catalogue.entries()})
    if kind and kind not in kinds:
        raise unusable(f'there is no kind "{kind}"; there are {", ".join(kinds)}')
    return kind


def _family(family: str | None) -> str | None:
    from latchwork.tools.catalogue.one_part import known_families

    if family is None:
        return None
    if family.upper() not in known_families():
        raise unusable(f'there is no family "{family}"; there are {", ".join(known_families())}')
    return "" if family.upper() == "TTL" else family.upper()


def _lines(report: CatalogueReport) -> Iterator[str]:
    rows = [(part.number, part.kind, part.title, " ".join(part.families)) for part in report.parts]
    if rows:
        yield from table(("part", "kind", "what it is", "families"), rows)
        yield ""
    yield f"{report.found} of {report.all} parts; {report.complete} are complete"


def _memory_lines(report: MemoryReport) -> Iterator[str]:
    from latchwork.cli.figures import values

    def row(figure: FigureRow) -> tuple[str, ...]:
        return figure.part, figure.family, figure.quantity, figure.path, *values(figure), figure.unit

    heads = ("part", "family", "figure", "from and to", "least", "typical", "most", "unit")
    yield from table(heads, map(row, report.figures), right=(4, 5, 6))
    yield ""
    others = ", ".join(f"{count} {kind}" for kind, count in report.confidences)
    yield f"{report.from_memory} of {report.all} figures are from memory, {report.share} % ({others})"
