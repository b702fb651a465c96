"""The rules of docs/semantics.md as text cases, run by the compiled engine."""

from __future__ import annotations

from pathlib import Path

import pytest
from case_format import read_case, run_case

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.errors import NotCompilable
from latchwork.netlist import Netlist

CASES = sorted((Path(__file__).parent.parent / "cases").glob("*.case"))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
@pytest.mark.parametrize("seed", [0, 3])
def test_compiled_code_follows_the_case(path: Path, seed: int) -> None:
    run_case(read_case(path), lambda netlist, unknown: CompiledEngine(netlist, seed=seed, unknown=unknown), False)


def test_the_unknown_reading_is_refused() -> None:
    case = read_case(CASES[0])
    netlist: Netlist = case.builder.netlist(case.name)
    with pytest.raises(NotCompilable, match="the unknown reading"):
        CompiledEngine(netlist, unknown=True)
