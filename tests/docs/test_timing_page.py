"""docs/timing.md and docs/supply.md are worked through: their commands print what the pages say."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "tools"))

from walkthrough import worked  # noqa: E402


@pytest.mark.parametrize("name", ["timing.md", "supply.md"])
def test_the_page_is_what_its_commands_print(name: str, tmp_path: Path) -> None:
    page = (ROOT / "docs" / name).read_text(encoding="utf-8")
    assert worked(page, tmp_path) == page, "make regenerate writes what the commands print now into the page"
