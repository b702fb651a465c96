"""`latchwork run --images`: the machine runs with the bytes of the files, not with those that the sources give now."""

import json
from pathlib import Path

import pytest

from latchwork.analysis.rom_contents import rom_bytes
from latchwork.cli.main import run
from latchwork.load.model import load_model

MACHINE = """
from latchwork import HIGH, LOW, OPEN, Machine
m = Machine("playing")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
count = m.bus("count", 4)
m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=count, RCO=OPEN)
shown = m.bus("shown", 8)
for label in ("tune", "spare"):
    rom = m.chip("28C16", label=label, A=[*count, *[LOW] * 7], D=shown if label == "tune" else [OPEN] * 8,
                 CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    if label == "tune":
        m.image(rom, "tune.bin")
m.output("shown", shown)
m.register("shown", shown)
m.halt_when(count[3], HIGH)
"""
TUNE = bytes(range(100, 116)) + b"\xff" * 2032
BASE = "main-U3-28C16"


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "machine.py").write_text(MACHINE)
    (tmp_path / "tune.bin").write_bytes(TUNE)
    monkeypatch.chdir(tmp_path)
    assert run(["images", "--out", "burn"]) == 0
    capsys.readouterr()

    def called(*words: str) -> tuple[int, str, str]:
        status = run(["run", ".", *words])
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return called


def values(call, *words: str) -> list[int]:
    status, out, err = call("--json", *words)
    assert (status, err) == (0, "")
    return json.loads(out)["outputs"]["shown"]


def test_files_of_every_format_give_the_same_run(call) -> None:
    fresh = values(call)
    assert fresh[-8:] == list(range(101, 109))
    assert values(call, "--images", "burn") == fresh
    for end in ("bin", "hex", "s19"):
        Path(end).mkdir()
        Path(end, f"{BASE}.{end}").write_bytes(Path("burn", f"{BASE}.{end}").read_bytes())
        assert values(call, "--images", end) == fresh


def test_a_byte_flipped_in_the_file_changes_the_run(call) -> None:
    path = Path("burn", f"{BASE}.bin")
    path.write_bytes(TUNE[:5] + bytes([TUNE[5] ^ 0x40]) + TUNE[6:])
    assert values(call, "--images", "burn") == [105 ^ 0x40 if value == 105 else value for value in values(call)]


def test_the_files_count_whatever_the_sources_say_now(call) -> None:
    before = values(call)
    Path("tune.bin").write_bytes(bytes(range(16)))
    assert values(call) != before
    assert values(call, "--images", "burn") == before


def test_a_rom_without_contents_may_have_a_file(call) -> None:
    Path("burn", "main-U4-28C16.bin").write_bytes(TUNE)
    assert values(call, "--images", "burn") == values(call)


def wrong(call, folder: str) -> str:
    status, out, err = call("--images", folder)
    assert (status, out) == (2, "")
    return err


def test_messages(call) -> None:
    assert wrong(call, "nowhere") == (
        'I125 there is no folder "nowhere"\nhelp: write the images first: `latchwork images --out FOLDER`\n'
    )
    Path("empty").mkdir()
    assert wrong(call, "empty") == (
        "I125 no image of 28C16 U3 is in empty\n  empty\n"
        f"help: it is called {BASE} and ends with one of .bin, .hex, .s19; `latchwork images` writes it\n"
    )
    Path("short").mkdir()
    Path("short", f"{BASE}.bin").write_bytes(TUNE[:-1])
    assert wrong(call, "short") == (
        f"I120 the file holds 2047 bytes, 28C16 U3 has 2048\n  short/{BASE}.bin\nhelp: write the images again\n"
    )
    Path("broken").mkdir()
    Path("broken", f"{BASE}.hex").write_text(":00000001FF\n:00\n")
    assert wrong(call, "broken").startswith("I111 something stands behind the end record\n")


def test_files_that_contradict_one_another(call) -> None:
    Path("two").mkdir()
    Path("two", f"{BASE}.bin").write_bytes(TUNE[::-1])
    Path("two", f"{BASE}.hex").write_bytes(Path("burn", f"{BASE}.hex").read_bytes())
    assert wrong(call, "two") == (
        f"I126 28C16 U3 has files that hold different bytes\n  two/{BASE}.bin\n  two/{BASE}.hex\n"
        "help: keep the one that the chip was burned with\n"
    )


def test_the_bytes_run_are_those_that_would_be_burned(call) -> None:
    (content,) = rom_bytes(load_model(".")).values()
    assert Path("burn", f"{BASE}.bin").read_bytes() == content == TUNE
