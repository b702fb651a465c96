"""The programmable devices of a machine and their fuse files."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from latchwork.fuses.behaviour import device_of
from latchwork.fuses.file import FuseFile, fuse_checksum, written
from latchwork.fuses.sources import fuses_in
from latchwork.model import Model
from latchwork.netlist import ChipId
from latchwork.parts import Direction, Part
from latchwork.problems import LatchworkError
from latchwork.reports.images import FusedChip
from latchwork.tools.images.chips import file_name


def fuse_files(model: Model) -> dict[str, bytes]:
    """File name -> fuse file, for each device."""
    return {f"{file_name(model.netlist, chip)}.jed": _file(model, chip, part) for chip, part in _devices(model)}


def fused_chips(model: Model, since: Path | None = None) -> tuple[FusedChip, ...]:
    """The devices; compared with the files of an earlier time in a folder where one is given."""
    return tuple(_compared(_described(model, chip, part), part, since) for chip, part in _devices(model))


def _devices(model: Model) -> Iterator[tuple[ChipId, Part]]:
    for chip in range(len(model.netlist.chips)):
        part = model.netlist.part_of(chip)
        if part.fuses:
            yield chip, part


def _described(model: Model, chip: ChipId, part: Part) -> FusedChip:
    placed = model.netlist.chips[chip]
    return FusedChip(
        reference=placed.reference,
        part=part.name,
        board=model.netlist.boards[placed.board].name,
        label=placed.label,
        file=file_name(model.netlist, chip),
        fuses=len(part.fuses),
        checksum=f"{fuse_checksum(part.fuses):04X}",
    )


def _compared(line: FusedChip, part: Part, folder: Path | None) -> FusedChip:
    if folder is None:
        return line
    path = folder / f"{line.file}.jed"
    try:
        before = fuses_in(path).fuses if path.is_file() else ""
    except LatchworkError:
        before = ""
    if len(before) != len(part.fuses):
        return replace(line, burn="new")
    differing = sum(one != other for one, other in zip(before, part.fuses, strict=True))
    return replace(line, burn="again" if differing else "keep", differing=differing)


def _file(model: Model, chip: ChipId, part: Part) -> bytes:
    placed, device = model.netlist.chips[chip], device_of(part)
    assert device is not None
    used = [pin for pin in part.pins if pin.direction not in (Direction.SUPPLY, Direction.GROUND, Direction.UNUSED)]
    notes = tuple(f"pin {pin.number}: {pin.name}" for pin in used)
    header = f"{device.name}, {placed.reference} of {model.netlist.name}, made by Latchwork"
    return written(FuseFile(part.fuses, device.pins, header, notes), device.columns).encode("ascii", "replace")
