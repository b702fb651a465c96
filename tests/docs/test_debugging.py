"""docs/debugging.md is worked through: its talks with the debugger answer what the page says, its Python runs."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "debugging.md"
sys.path.insert(0, str(ROOT / "tools"))

from walkthrough import worked  # noqa: E402


def test_the_page_is_what_its_talks_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert worked(page, tmp_path) == page, "make regenerate writes what the commands print now into the page"
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"^```python\n(import latchwork\n.*?)^```$", page, re.MULTILINE | re.DOTALL)
    assert len(blocks) >= 2
    for block in blocks:
        exec(compile(block, str(PAGE), "exec"), {})
