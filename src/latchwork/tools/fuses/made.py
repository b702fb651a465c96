"""The fuse file of a text of logic, and what is said about it."""

from __future__ import annotations

from pathlib import Path

from latchwork.fuses.file import FuseFile, fuse_checksum, written
from latchwork.fuses.fit import Use
from latchwork.fuses.sources import Fitting, logic_in
from latchwork.reports.fuses import FusedOutput, FusesReport


def made(path: Path) -> tuple[FusesReport, bytes]:
    """The report and the fuse file of a text of logic. Raises LatchworkError."""
    fitting = logic_in(path)
    return _report(path, fitting), written(_file(path, fitting), fitting.fitted.device.columns).encode("latin-1")


def _report(path: Path, fitting: Fitting) -> FusesReport:
    found = fitting.fitted
    return FusesReport(
        file=str(path),
        device=found.device.name,
        mode=found.mode.value if found.device.has_modes else "",
        fuses=len(found.fuses),
        checksum=f"{fuse_checksum(found.fuses):04X}",
        outputs=tuple(_output(use) for use in found.uses),
    )


def _output(use: Use) -> FusedOutput:
    return FusedOutput(use.name, use.pin, "register" if use.registered else "logic", use.terms, use.there, use.high)


def _file(path: Path, fitting: Fitting) -> FuseFile:
    """With a note for each pin, so that whoever finds the file knows what it is for."""
    device = fitting.fitted.device
    notes = tuple(f"pin {pin}: {name}" for name, pin in sorted(fitting.logic.pins.items(), key=lambda each: each[1]))
    header = f"{device.name}, made of {_plain(path.name)} by Latchwork"
    return FuseFile(fitting.fitted.fuses, device.pins, header, notes)


def _plain(name: str) -> str:
    """A file name in the characters that the standard has."""
    return "".join(letter if " " <= letter <= "~" and letter != "*" else "_" for letter in name)
