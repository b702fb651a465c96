from pathlib import Path

import pytest

from latchwork.cli import main as program

MACHINE = """
from latchwork import LOW, OPEN, Machine
m = Machine("tiny")
address = m.bus("address", 11)
with m.board("only"):
    for label in ("low", "high"):
        m.chip("28C16", label=label, A=address, D=[OPEN] * 8, CE_n=LOW, OE_n=LOW, WE_n=LOW)
    rom = m.chip("28C16", label="given", A=address, D=[OPEN] * 8, CE_n=LOW, OE_n=LOW, WE_n=LOW)
m.image(rom, "given.bin")
"""


@pytest.fixture
def tiny(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A machine folder `tiny` in this folder, with one ROM that has contents."""
    folder = tmp_path / "tiny"
    folder.mkdir()
    (folder / "machine.py").write_text(MACHINE)
    (folder / "given.bin").write_bytes(bytes((value * 7 + value // 256) % 251 for value in range(2048)))
    monkeypatch.chdir(tmp_path)
    return folder


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]):
    """Calls a command as its words; gives its exit status and what it printed to both outputs."""

    def run(*words: str) -> tuple[int, str, str]:
        status = program.run(list(words))
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return run
