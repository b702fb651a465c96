"""`latchwork run --images FOLDER PROGRAM` where the chips were burned with another program, or another state of it."""

import json
from pathlib import Path

import pytest

from latchwork.cli.main import run

MACHINE = """
from latchwork import HIGH, LOW, OPEN, Machine
m = Machine("playing")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
count = m.bus("count", 4)
m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=count, RCO=OPEN)
shown = m.bus("shown", 8)
rom = m.chip("28C16", A=[*count[::-1], *[LOW] * 7], D=shown, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
m.space("tunes", address=count, data=shown, chips=[rom])
m.section("tune", space="tunes", start=0, size=16)
m.output("shown", shown)
m.halt_when(count[3], HIGH)
"""
TUNE = "        .section tune\n        .byte 10, 11, 12\n        .byte 13, 14, 15, 16, 17, 18\n"


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "machine.py").write_text(MACHINE)
    (tmp_path / "tune.asm").write_text(TUNE)
    monkeypatch.chdir(tmp_path)
    assert run(["images", "--program", "tune.asm", "--out", "burn"]) == 0
    capsys.readouterr()

    def called(*words: str) -> tuple[int, str, str]:
        status = run(["run", ".", "tune.asm", "--images", "burn", *words])
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return called


def test_nothing_is_said_of_the_same_program(call) -> None:
    status, out, err = call("--json")
    assert (status, err, json.loads(out)["warnings"]) == (0, "", [])


def test_one_byte_that_differs(call) -> None:
    """The fifth word stands in cell 2 of the chip (its address lines are joined in reverse), which is byte 2."""
    Path("tune.asm").write_text(TUNE.replace("14", "99"))
    status, out, err = call()
    assert status == 0
    assert err == (
        "R108 warning: byte 2 of 28C16 U3 is 0E in its image, tune.asm gives 63\n"
        "  burn         the images that run\n"
        "  tune.asm:3   gives 63\n"
        "help: the machine runs what the images hold; `latchwork images --program tune.asm --out burn` writes them "
        "anew\n"
    )
    assert "shown: 11 12 13 14 15 16 17 18" in out


def test_the_first_of_several_bytes(call) -> None:
    """The last word's cell is erased once it is gone, and no line of the source is named for it."""
    Path("tune.asm").write_text(TUNE.replace(", 18", ""))
    status, out, _ = call("--json")
    assert status == 0
    (warning,) = json.loads(out)["warnings"]
    assert warning["message"] == "byte 1 of 28C16 U3 is 12 in its image, tune.asm gives FF"
    assert [place["file"] for place in warning["places"]] == ["burn"]
    Path("tune.asm").write_text(TUNE.replace("10, 11, 12", "10, 21, 22"))
    (warning,) = json.loads(call("--json")[1])["warnings"]
    assert warning["message"] == (
        "byte 4 of 28C16 U3 is 0C in its image, tune.asm gives 16, the first of 2 bytes that differ"
    )
    assert warning["severity"] == "warning"


def test_images_without_a_program_are_not_compared(call, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["run", ".", "--images", "burn", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["warnings"] == []
