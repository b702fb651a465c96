"""The rules of docs/semantics.md as text cases, run by the oracle in both readings."""

from __future__ import annotations

from pathlib import Path

import pytest
from case_format import read_case, run_case

from latchwork.engines.oracle import Oracle

CASES = sorted((Path(__file__).parent.parent / "cases").glob("*.case"))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
@pytest.mark.parametrize("seed", [0, 1, 2, 3, None])
def test_the_oracle_follows_the_case(path: Path, seed: int | None) -> None:
    run_case(read_case(path), lambda netlist, unknown: Oracle(netlist, seed=seed or 0, unknown=unknown), seed is None)


def test_there_are_cases() -> None:
    assert len(CASES) >= 20
