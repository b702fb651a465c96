"""What chip files say about their parts: the docstring's headings."""

from __future__ import annotations

from functools import cache
from textwrap import dedent

from latchwork.chips import catalogue
from latchwork.parts import Entry

HEADINGS = ("What it does", "Pins", "Function table", "Timing", "Mistakes people make", "Sources")


def about(entry: Entry) -> dict[str, str]:
    """Heading -> text, its indent taken off. A part from outside of the catalogue has none."""
    return sections(_documents().get((entry.number, entry.families), ""))


@cache
def _documents() -> dict[tuple[str, tuple[str, ...]], str]:
    found = {}
    for module in catalogue.modules():
        for entry in catalogue.entries_of(module):
            found[entry.number, entry.families] = module.__doc__ or ""
    return found


def sections(text: str) -> dict[str, str]:
    """The parts of a docstring under the fixed headings."""
    found: dict[str, list[str]] = {}
    lines: list[str] = []
    for line in text.splitlines():
        if line in HEADINGS:
            lines = found.setdefault(line, [])
        else:
            lines.append(line)
    return {heading: dedent("\n".join(lines)).strip("\n") for heading, lines in found.items()}
