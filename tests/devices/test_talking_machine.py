"""Devices that machine.py states, on a machine of chips: what is typed comes back over the bus."""

from __future__ import annotations

import io
from pathlib import Path
from types import SimpleNamespace

import pytest
from talking_machine import MACHINE

import latchwork
from latchwork.cli.main import run
from latchwork.load.model import load_model
from latchwork.load.saved import open_saved, saved
from latchwork.tools.debug import Session


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "machine.py").write_text(MACHINE)
    return tmp_path


def test_what_is_sent_comes_back(folder: Path) -> None:
    machine = latchwork.load(folder)
    assert list(machine.devices) == ["line", "panel"]
    machine.send("line", b"tern")
    machine.step_clock(400)
    assert machine.heard("line") == b"tern"
    assert machine["held"] == ord("n")
    assert machine.heard("panel").split()[-4:] == [b"held=%d" % letter for letter in b"tern"]
    assert not [each for each in machine.incidents if each.kind == "fight"]


def test_going_back_takes_the_port_back_too(folder: Path) -> None:
    session = Session(latchwork.load(folder), every=16)
    told = []
    session.on_emit = lambda name, data: told.append(data) if name == "line" else None
    session.forward(20, "clock")
    session.send("line", b"ab")
    session.forward(30, "clock")
    session.send("line", b"c")
    session.forward(200, "clock")
    end = session.machine.save()
    assert session.machine.heard("line") == b"abc"  # type: ignore[attr-defined]
    session.back(220, "clock")
    assert session.machine.heard("line") == b""  # type: ignore[attr-defined]
    session.forward(220, "clock")
    assert session.machine.save() == end
    assert b"".join(told) == b"abc"


def test_a_saved_model_has_its_devices(folder: Path) -> None:
    model = load_model(folder)
    file = folder / "talker.latchwork"
    file.write_bytes(saved(model))
    assert open_saved(file).statements.devices == model.statements.devices


def test_joined_to_the_terminal(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", SimpleNamespace(isatty=lambda: False, buffer=io.BytesIO(b"gull\n")))
    assert run(["run", str(folder), "--terminal", "line", "--until", "never", "--clocks", "500"]) == 0
    assert capsys.readouterr().out.startswith("gull\nstopped: ")
    assert run(["run", str(folder), "--terminal", "wire"]) == 2
    assert 'no device "wire"' in capsys.readouterr().err


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("rate=312_500", "rate=0", 'the rate of "line"'),
        ('m.serial_port("line", D=data,', 'm.serial_port("line", D=data[0:7],', "has eight data nets, these are 7"),
        ("lamps={", "lamps=held, switches={", "keyword argument repeated"),
        ('m.panel("panel"', 'm.panel("line"', 'the device "line" is there already'),
    ],
)
def test_mistakes_name_their_line(
    folder: Path, old: str, new: str, message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = MACHINE.replace(old, new)
    assert text != MACHINE
    (folder / "machine.py").write_text(text)
    assert run(["run", str(folder)]) == 2
    error = capsys.readouterr().err
    assert message in error
    assert "machine.py:" in error


def test_check_knows_what_devices_drive_and_look_at(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(folder)]) == 0
    without = MACHINE[: MACHINE.index("m.serial_port")] + 'run = m.net("run")\nm.lamps([m.gate("and", run, reset_n)])\n'
    (folder / "machine.py").write_text(without)
    capsys.readouterr()
    assert run(["check", str(folder)]) == 1
    assert "nothing drives run, which inputs read" in capsys.readouterr().out
