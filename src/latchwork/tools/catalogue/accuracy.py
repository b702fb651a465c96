"""The page about where the figures come from, made from the catalogue: kinds, and the ratios behind estimates."""

from __future__ import annotations

from collections.abc import Iterator

from latchwork.chips import catalogue
from latchwork.chips.estimates import FEWEST, WIDEST, Ratio, ratios, read_times
from latchwork.tools.catalogue.figures import memory_report

PAGE = "catalogue-figures.md"
_NOTE = "<!-- Made by tools/regenerate.py from the catalogue. Change src/latchwork/tools/catalogue/accuracy.py. -->"


def pages() -> dict[str, str]:
    """Name of the file -> its text."""
    return {PAGE: "\n".join([*_head(), *_kinds(), *_rules(), ""])}


def _head() -> Iterator[str]:
    yield from ("# Where the figures come from", "", _NOTE, "")
    yield from (
        "Each figure of the catalogue says where it comes from: `latchwork chip 74HC165` prints the source beside it,",
        "`latchwork chips --memory` lists every figure that nobody has found in a sheet yet.",
        "",
        "- **read**: in the named sheet, at the conditions given;",
        "- **computed**: from read figures by a formula that the source states;",
        "- **estimate**: from a read figure by a ratio of the table below, or as a fraction that the source states;",
        "- **memory**: recalled, no text at hand.",
        "",
    )


def _kinds() -> Iterator[str]:
    report = memory_report()
    yield from ("| kind | figures | share |", "|---|---:|---:|")
    for kind, count in report.confidences:
        yield f"| {kind} | {count} | {count / report.all:.1%} |"
    yield ""


def _rules() -> Iterator[str]:
    yield from (
        "## The ratios behind estimates",
        "",
        "A recalled time gives way to an estimate where the same path of the same part has a read time in another",
        "column, load or family, and the quotient of the two has been measured. It is the median over the parts that",
        "have both read; its error is what nine in ten of those parts stay within. A ratio is used where it was",
        f"measured on at least {FEWEST} parts and its error is at most {WIDEST:.0%}. The estimate's source names the",
        "ratio, the read figure and the recalled one. Hold times are not estimated: most are zero.",
        "",
        "| kind | from | to | ratio | error | parts | used |",
        "|---|---|---|---:|---:|---:|---|",
    )
    yield from map(_row, (ratio for ratio in ratios(read_times(catalogue.written())) if ratio.parts >= FEWEST))


def _row(ratio: Ratio) -> str:
    cells = (
        ratio.kind, str(ratio.of), str(ratio.to), f"{ratio.factor:.2f}", f"{ratio.spread:.0%}", str(ratio.parts),
        "yes" if ratio.in_use else "no",
    )  # fmt: skip
    return f"| {' | '.join(cells)} |"
