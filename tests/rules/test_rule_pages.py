"""Every rule has its page, and docs/rules holds the pages as the rules have them."""

from pathlib import Path

import pytest

from latchwork.problems.registry import page, titles
from latchwork.tools.rules.errors import TITLES
from latchwork.tools.rules.pages import FITTING, pages
from latchwork.tools.rules.registry import RULES
from latchwork.tools.rules.rule import HEADINGS

DOCS = Path(__file__).parents[2] / "docs" / "rules"


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.code)
def test_a_page_has_every_heading_in_order(rule) -> None:
    lines = rule.page.splitlines()
    assert [line for line in lines if line in HEADINGS] == list(HEADINGS)
    assert lines[0] == f"{TITLES[rule.code][0].upper()}{TITLES[rule.code][1:]}."
    for heading in HEADINGS:
        assert lines[lines.index(heading) + 1].startswith("    "), f"nothing stands under {heading}"
    assert page(rule.code) == rule.page


@pytest.mark.parametrize("code", FITTING)
def test_mistakes_of_the_fitting_have_the_same_headings(code: str) -> None:
    lines = page(code).splitlines()
    assert [line for line in lines if line in HEADINGS] == list(HEADINGS)
    assert lines[0] == f"{titles()[code][0].upper()}{titles()[code][1:]}."


def test_codes_rise() -> None:
    codes = [rule.code for rule in RULES]
    assert codes == sorted(set(codes)) == list(TITLES)


def test_docs_are_current() -> None:
    """Else run `make regenerate`."""
    kept = {path.name: path.read_text(encoding="utf-8") for path in DOCS.glob("*.md")}
    assert kept == pages()
