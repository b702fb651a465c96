"""docs/timing.md is worked through: its commands print what the page says."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "timing.md"
sys.path.insert(0, str(ROOT / "tools"))

from walkthrough import worked  # noqa: E402


def test_the_page_is_what_its_commands_print(tmp_path: Path) -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert worked(page, tmp_path) == page, "make regenerate writes what the commands print now into the page"
