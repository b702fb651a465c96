"""The yardsticks of the bench are second models of Lapwing: a hand-written interpreter, and its bits as C."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tools" / "bench"))

from lapwing import GccBit, Interpreter, Lapwing

pytestmark = [pytest.mark.slow, pytest.mark.skipif(shutil.which("gcc") is None, reason="the yardsticks need gcc")]
CLOCKS = 30_000
"""Several rounds of the program: all that it does it does again with other numbers."""


@pytest.fixture(scope="module")
def lapwing() -> Lapwing:
    return Lapwing()


def test_the_interpreter_ends_like_the_engine(lapwing: Lapwing, tmp_path: Path) -> None:
    engine = lapwing.warm()
    end, memory, clocks, _ = Interpreter(tmp_path).run(lapwing.interpreted(engine), CLOCKS)
    assert clocks >= CLOCKS
    engine.run(clocks)
    assert engine.read(lapwing.registers["step"]) == 0
    assert lapwing.interpreted(engine) == (end, memory)


def test_the_bits_end_like_the_engine(lapwing: Lapwing, tmp_path: Path) -> None:
    engine = lapwing.warm()
    end, _ = GccBit(lapwing, tmp_path).run(lapwing.states(engine), CLOCKS)
    assert lapwing.states(engine) != end
    engine.run(CLOCKS)
    assert lapwing.states(engine) == end
