"""From a file of logic or of fuses to the fuses of a device, and to the part that they make of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from latchwork.base.position import Position
from latchwork.fuses.behaviour import device_of, programmed
from latchwork.fuses.device import DEVICES, Device, mode_of
from latchwork.fuses.file import LARGEST, FuseFile, read
from latchwork.fuses.fit import Fitted, fitted
from latchwork.fuses.text import Logic, read_logic
from latchwork.parts import Part
from latchwork.problems import Label, LatchworkError, Problem

MOST_BYTES = 16 * LARGEST


@dataclass(frozen=True)
class Fitting:
    """Logic, and how it sits in its device."""

    logic: Logic
    fitted: Fitted


def logic_in(path: Path, shown: str = "") -> Fitting:
    """The fitted logic of a text file. Raises LatchworkError."""
    name = shown or str(path)
    logic = read_logic(_text(path, name, "utf-8"), name)
    return Fitting(logic, fitted(logic))


def fuses_in(path: Path, shown: str = "") -> FuseFile:
    """What a fuse file holds. Raises LatchworkError."""
    name = shown or str(path)
    return read(_text(path, name, "latin-1"), name)


def _text(path: Path, name: str, encoding: str) -> str:
    place = (Label(Position(name)),)
    try:
        content = path.read_bytes()
    except OSError as error:
        reason = "there is no such file" if isinstance(error, FileNotFoundError) else "it can't be read"
        hint = "it is looked for beside machine.py" if isinstance(error, FileNotFoundError) else (error.strerror or "")
        raise LatchworkError(Problem("F111", reason, place, hint)) from error
    if len(content) > MOST_BYTES:
        raise LatchworkError(Problem("F111", f"it has {len(content)} bytes; {MOST_BYTES} are read", place))
    try:
        return content.decode(encoding)
    except UnicodeError as error:
        hint = "logic is text in UTF-8; is this another file?"
        raise LatchworkError(Problem("F111", "it is no text", place, hint)) from error


def part_of_logic(part: Part, path: Path, shown: str) -> Part:
    """The part with the logic of a file; its pins have the names that the file gives them. Raises LatchworkError."""
    fitting = logic_in(path, shown)
    wanted = fitting.logic.device
    if device_of(part) is not wanted:
        message = f"this is logic for a {wanted.name}, and the chip is a {part.name}"
        raise _refused("F112", message, shown, "name the file of this chip")
    names = {number: name for name, number in fitting.logic.pins.items()}
    return programmed(part, f"{part.name} {path.stem}", fitting.fitted.fuses, names)


def part_of_fuses(part: Part, path: Path, shown: str) -> Part:
    """The part with the fuses of a file. Raises LatchworkError."""
    device, file = device_of(part), fuses_in(path, shown)
    if device is None or len(file.fuses) not in device.sizes:
        has = " or ".join(map(str, device.sizes if device else ()))
        message = f"this file has {len(file.fuses)} fuses, and a {part.name} has {has}"
        raise _refused("F112", message, shown, "name the file of this chip")
    refuse_without_mode(device, file.fuses, shown)
    return programmed(part, f"{part.name} {path.stem}", file.fuses)


def device_with(count: int) -> Device | None:
    """The device that has so many fuses."""
    return next((device for device in DEVICES.values() if count in device.sizes), None)


def refuse_without_mode(device: Device, fuses: str, shown: str) -> None:
    if mode_of(device, fuses) is None:
        levels = f"fuse {device.syn} (SYN) is {fuses[device.syn]} and fuse {device.ac0} (AC0) is {fuses[device.ac0]}"
        hint = "SYN and AC0 are 10 (simple), 11 (complex) or 01 (registered)"
        raise LatchworkError(Problem("F113", f"{levels}, which sets no mode", (Label(Position(shown)),), hint))


def _refused(code: str, message: str, shown: str, help: str = "") -> LatchworkError:
    return LatchworkError(Problem(code, message, (Label(Position(shown)),), help))
