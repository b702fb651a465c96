"""The same run by either engine gives the same report; clocks that run by unseen are none that anyone looks at."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.oracle import Oracle
from latchwork.load.model import load_model
from latchwork.problems import LatchworkError
from latchwork.tools.run.running import Running

DUNLIN = Path(__file__).resolve().parents[2] / "machines" / "dunlin"


@pytest.mark.parametrize(
    ("program", "until"),
    [("primes.asm", "halt"), ("selftest.asm", "halt"), ("sort.asm", "lamps=0xC7"), ("primes.asm", "acc=97")],
)
def test_both_engines_report_the_same(program: str, until: str) -> None:
    model = load_model(DUNLIN)
    reports = []
    for engine in ("oracle", "compiled"):
        running = Running(model, engine=engine)
        reports.append(running.run(DUNLIN / "programs" / program, until=until, clocks=20_000))
        reports[-1:] = [reports[-1], running["pc"]]  # type: ignore[list-item]
    assert reports[:2] == reports[2:]


def test_most_of_a_long_run_is_compiled_code() -> None:
    running = Running(load_model(DUNLIN))
    report = running.run(DUNLIN / "programs" / "primes.asm", until="never", clocks=3_000_000)
    simulation = running.simulation
    assert isinstance(simulation, CompiledEngine)
    assert report.clocks == 3_000_000
    assert simulation.native_ticks > 50 * simulation.oracle_ticks


def test_the_unknown_reading_is_the_oracles() -> None:
    model = load_model(DUNLIN)
    assert isinstance(Running(model, unknown=True).simulation, Oracle)
    with pytest.raises(LatchworkError) as caught:
        Running(model, unknown=True, engine="compiled")
    assert str(caught.value) == (
        "R107 there is no compiled form: the unknown reading is the oracle's "
        "(leave --engine out, or write --engine oracle)"
    )


def test_without_the_library_of_the_compiler(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [name for name in sys.modules if name.startswith("latchwork.engines.compiled.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "llvmlite", None)
    with pytest.raises(LatchworkError) as caught:
        Running(load_model(DUNLIN), engine="compiled")
    assert str(caught.value) == (
        "R107 there is no compiled form: a library is missing: llvmlite (leave --engine out, or write --engine oracle)"
    )
