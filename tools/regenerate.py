"""``make regenerate``: write the pages that are made from the program itself. Tests find them current."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from walkthrough import worked_through

from latchwork.tools.catalogue.accuracy import pages as accuracy_pages
from latchwork.tools.catalogue.pages import pages as chip_pages
from latchwork.tools.rules.pages import pages as rule_pages

ROOT = Path(__file__).resolve().parents[1]

MADE: dict[str, Callable[[], dict[str, str]]] = {
    "docs/chips": chip_pages,
    "docs/rules": rule_pages,
    "docs": lambda: (
        accuracy_pages()
        | worked_through(
            ROOT / "docs", "first-machine.md", "debugging.md", "programmable-logic.md", "timing.md", "supply.md"
        )
    ),
}
"""Folder -> function that gives the text of each file in it."""


def main() -> None:
    for folder, made in MADE.items():
        place = ROOT / folder
        place.mkdir(parents=True, exist_ok=True)
        for name, text in made().items():
            (place / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
