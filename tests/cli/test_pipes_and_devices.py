"""Pipes and devices where files go: refused at once; nothing waits, nothing is replaced. Common practice.

And odd descriptions and numbers, told in full."""

from __future__ import annotations

import os
from pathlib import Path

import pytest


def test_a_pipe_is_not_written(call, tiny: Path) -> None:
    os.mkfifo("log.sarif")
    for force in ([], ["--force"]):
        assert call("check", "tiny", "--sarif", "log.sarif", *force)[::2] == (
            2,
            "C102 a device or a pipe stands where a file goes\n  log.sarif\nhelp: name a file; nothing was written\n",
        )
    assert Path("log.sarif").is_fifo()


def test_a_pipe_is_no_image(call, tiny: Path) -> None:
    os.mkfifo("back.bin")
    assert call("verify", "tiny", "back.bin") == (
        2,
        "",
        "I110 this can't be read: it is a pipe\n  back.bin\nhelp: name a file that was written or read back\n",
    )


def test_images_of_no_size_and_of_too_much(call, tiny: Path) -> None:
    hint = "help: read the chip again, or name another file\n"
    Path("back.bin").write_bytes(b"")
    assert call("verify", "tiny", "back.bin") == (2, "", f"I108 the file holds no bytes\n  back.bin\n{hint}")
    Path("back.bin").write_bytes(bytes(5_000_000))
    message = "I107 the file holds more than 1048576 bytes, the most that a ROM has"
    assert call("verify", "tiny", "back.bin") == (2, "", f"{message}\n  back.bin\n{hint}")


def test_a_pipe_is_no_saved_model(call, tiny: Path) -> None:
    os.mkfifo("made.latchwork")
    assert call("check", "made.latchwork") == (
        2,
        "",
        "M110 this is not a saved model: it can't be read: it is no file\n  made.latchwork\n"
        "help: name a file that `latchwork save` wrote\n",
    )


def test_an_error_that_can_not_tell_itself(call, tiny: Path) -> None:
    text = "class Odd(Exception):\n    def __str__(self):\n        raise ValueError\n\n\nraise Odd\n"
    Path("tiny/machine.py").write_text(text)
    status, out, err = call("check", "tiny")
    assert (status, out) == (2, "")
    assert err.splitlines()[0] == "M105 Odd"
    assert "tiny/machine.py:6" in err


def test_a_source_that_is_nested_too_deeply(call, tiny: Path) -> None:
    Path("tiny/machine.py").write_text("x = " + "-" * 200_000 + "1\n")
    assert call("check", "tiny") == (
        2,
        "",
        "M107 machine.py is nested too deeply for Python\n  tiny/machine.py\n"
        "help: write its longest expression in several steps\n",
    )


@pytest.mark.parametrize(("option", "value"), [("--clocks", "1e9"), ("--seed", "x")])
def test_numbers_that_are_none(call, option: str, value: str) -> None:
    assert call("run", option, value) == (
        2,
        "",
        f"C101 invalid value for '{option}': '{value}' is not a whole number\n"
        'help: "latchwork run --help" shows what it takes\n',
    )


def test_a_folder_that_may_not_be_read(call, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(path: Path) -> bool:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "is_file", refused)
    assert call("check", "locked") == (
        2,
        "",
        "C104 locked can't be used: permission denied\nhelp: may you read and write there, and is there room?\n",
    )
