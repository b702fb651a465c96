"""Ctrl-C in a long run, with a real signal to a real process: a report, and the end of a tick."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

DUNLIN = Path(__file__).parents[2] / "machines" / "dunlin"
LONG = 10**13

TELLING = """
import sys
from latchwork.cli.main import main
from latchwork.engines.compiled.code import Code
from latchwork.engines.oracle import Oracle

def telling(owner, name):
    '''Says once that it is running, from within it.'''
    right = getattr(owner, name)
    def wrapped(*arguments):
        setattr(owner, name, right)
        print("running", flush=True)
        return right(*arguments)
    setattr(owner, name, wrapped)

telling(*{"compiled": (Code, "skip"), "oracle": (Oracle, "tick")}[sys.argv.pop(1)])
sys.argv[0] = "latchwork"
main()
"""


@pytest.mark.parametrize("engine", ["compiled", "oracle"])
def test_a_run_stops_with_a_report(engine: str, tmp_path: Path) -> None:
    program = tmp_path / "endless.asm"
    program.write_text("        .section rom\nstart:  inc     acc\n        jump    start\n", encoding="utf-8")
    words = ["run", str(DUNLIN), str(program), "--engine", engine, "--clocks", str(LONG), "--until", "never"]
    run = subprocess.Popen([sys.executable, "-c", TELLING, engine, *words], stdout=subprocess.PIPE, text=True)
    assert run.stdout is not None
    assert run.stdout.readline() == "running\n"
    run.send_signal(signal.SIGINT)
    report, _ = run.communicate(timeout=60)
    assert "it was interrupted by hand" in report
    assert "registers:" in report
    assert run.returncode == 1, "it did not come to what it was to reach"
