"""``latchwork fuses``, and the fuse files among the images of a machine; what is read back does what was burned.

The fuses are judged by burned.py, which follows the diagrams of the data sheets.
"""

from __future__ import annotations

import json
from pathlib import Path
from random import Random

import pytest
from burned import Burned, random_fuses
from test_programmed_parts import COUNTER, SETTINGS

from latchwork.cli import main as program
from latchwork.fuses.file import FuseFile, read, written
from latchwork.fuses.sources import fuses_in
from latchwork.load.model import load_model
from latchwork.netlist import text as netlist_text
from latchwork.tools.fuses.made import made
from latchwork.tools.fuses.readback import readback

MACHINE = """
from latchwork import Machine, pull_down
m = Machine("plover")
clock = m.clock(1_000_000)
run = m.switch("run")
clear = m.power_on_reset(name="clear")
page = m.switches("page", 3)
read = m.switch("read")
bus = m.net("bus", idle=pull_down("10k"))
with m.board("control"):
    steps = m.chip("GAL22V10", label="steps", logic="both.logic", clock=clock, clear=clear, run=run,
                   a13=page[0], a14=page[1], a15=page[2], read=read, bus=bus)
m.output("count", [steps.c0, steps.c1, steps.c2])
"""


@pytest.fixture
def plover(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "plover"
    folder.mkdir()
    (folder / "machine.py").write_text(MACHINE)
    (folder / "both.logic").write_text(COUNTER)
    return folder


@pytest.mark.parametrize(("kind", "setting"), SETTINGS)
@pytest.mark.parametrize("seed", range(3))
def test_what_is_read_back_does_what_was_burned(kind: str, setting: str, seed: int, tmp_path: Path) -> None:
    """Fuses, their logic as text, and the fuses of that text: the same levels at all pins."""
    random = Random(f"back {kind} {setting} {seed}")
    fuses = random_fuses(kind, setting, random)
    if kind == "22V10":  # registers that are reset together stand low at their pins in the text
        fuses = fuses[:5808] + "".join("1" + fuses[fuse + 1] for fuse in range(5808, 5828, 2)) + fuses[5828:]
    (tmp_path / "random.jed").write_bytes(written(FuseFile(fuses)).encode())
    (tmp_path / "back.logic").write_text(readback(tmp_path / "random.jed").text)
    _, content = made(tmp_path / "back.logic")
    one, other = Burned(kind, fuses), Burned(kind, read(content.decode(), "back").fuses)
    assert one.registers() == other.registers()
    driven = one.driven()
    for pin in driven:
        assert one.setting != "10" or pin in other.driven()
    for _ in range(40):
        levels = {pin: random.getrandbits(1) for pin in range(1, 24) if pin not in driven}
        shown, again = one.settled(levels), other.settled(levels)
        assert {pin: shown[pin] for pin in driven} == {pin: again[pin] for pin in driven}
        one.edge(levels)
        other.edge(levels)


def test_the_command_makes_a_fuse_file(plover: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert program.run(["fuses", "plover/both.logic"]) == 0
    printed = capsys.readouterr().out
    assert "22V10, 5892 fuses" in printed
    assert "3 of 10" in printed
    file = read((plover / "both.jed").read_bytes().decode(), "both.jed")
    assert (len(file.fuses), file.pins) == (5892, 24)
    assert "pin 20: rom_show_n" in file.notes


def test_the_command_reads_a_fuse_file(plover: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert program.run(["fuses", "plover/both.logic", "--out", "a.jed"]) == 0
    assert program.run(["fuses", "a.jed"]) == 0
    assert "p18 = p23\n        when p3 and not p7\n" in capsys.readouterr().out
    assert program.run(["fuses", "a.jed", "--out", "b.logic"]) == 0
    assert program.run(["fuses", "b.logic"]) == 0
    assert fuses_in(Path("b.jed")).fuses == fuses_in(Path("a.jed")).fuses


def test_the_report_as_json(plover: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert program.run(["fuses", "plover/both.logic", "--json"]) == 0
    report = json.loads(capsys.readouterr().out)
    assert report["device"] == "22V10"
    assert report["outputs"][0] == {"name": "c0", "pin": 21, "shows": "register", "terms": 2, "there": 12, "high": True}


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [
        ("none.jed", None, "F111"),
        (
            "odd.jed",
            "\x02*QF9*F0*\x03",
            "F112 no device has 9 fuses\n  odd.jed\nhelp: 2194 are a 16V8, 2706 a 20V8, 5892 or 5828 a 22V10\n",
        ),
        ("none.logic", "pins\n", "F201"),
    ],
)
def test_what_cannot_be_used_is_said(
    name: str, content: str | None, code: str, plover: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    if content is not None:
        Path(name).write_text(content)
    assert program.run(["fuses", name]) == 2
    assert code in capsys.readouterr().err


def test_a_foreign_file_is_not_overwritten(plover: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (plover / "both.jed").write_text("somebody's")
    assert program.run(["fuses", "plover/both.logic"]) == 2
    assert "C102" in capsys.readouterr().err
    assert program.run(["fuses", "plover/both.logic", "--force"]) == 0


def test_a_machine_of_logic_alone_has_images(plover: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert program.run(["images", "plover"]) == 0
    assert "GAL22V10 both" in capsys.readouterr().out
    (file,) = (plover / "images").glob("*.jed")
    assert "5892 fuses" in (plover / "images" / "labels.txt").read_text()
    assert "checksum 760A" in (plover / "images" / "labels.html").read_text()
    assert (
        read(file.read_bytes().decode(), file.name).fuses == load_model(plover).netlist.part_of(chip_of(plover)).fuses
    )
    assert program.run(["images", "plover", "--since", "plover/images"]) == 0
    assert "keep" in capsys.readouterr().out
    (plover / "both.logic").write_text(COUNTER.replace("page < 3", "page < 4"))
    assert program.run(["images", "plover", "--since", "plover/images"]) == 1
    assert "fuses differ" in capsys.readouterr().out


def chip_of(folder: Path) -> int:
    netlist = load_model(folder).netlist
    return next(chip for chip in range(len(netlist.chips)) if netlist.part_of(chip).fuses)


def test_the_machine_runs_is_checked_and_saved(plover: Path, capsys: pytest.CaptureFixture[str]) -> None:
    netlist = load_model(plover).netlist
    assert netlist_text.parsed(netlist_text.written(netlist)) == netlist
    assert program.run(["check", "plover"]) == 0
    assert "C900" not in "".join(capsys.readouterr())
    assert program.run(["chip", "GAL22V10"]) == 0
    for engine in ("compiled", "oracle"):
        assert program.run(["run", "plover", "--until", "never", "--clocks", "50", "--engine", engine]) == 0
        assert "C900" not in "".join(capsys.readouterr())
