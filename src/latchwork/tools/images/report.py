"""Which ROMs there are, what they hold in short, and which of them must be burned again."""

from __future__ import annotations

import zlib
from dataclasses import replace
from pathlib import Path

from latchwork.analysis.rom_contents import FILL
from latchwork.model import Model
from latchwork.reports.images import ChipImage, ImagesReport
from latchwork.tools.images.chips import Rom, empty_roms, roms, some_roms
from latchwork.tools.images.devices import fused_chips
from latchwork.tools.images.formats import FORMATS
from latchwork.tools.images.reader import read_image


def report(model: Model, since: Path | None = None) -> ImagesReport:
    """All ROMs; compared with the files of an earlier time in the folder ``since`` where one is given."""
    devices = fused_chips(model, since)
    roms_there = roms(model) if devices else some_roms(model)
    found = tuple(_compared(rom, since) if since else described(rom) for rom in roms_there)
    return ImagesReport(model.netlist.name, found, empty_roms(model), since=str(since or ""), devices=devices)


def described(rom: Rom) -> ChipImage:
    """A ROM in one line of a table."""
    return ChipImage(
        reference=rom.reference,
        part=rom.part,
        board=rom.board,
        label=rom.label,
        holds=rom.holds,
        file=rom.name,
        size=rom.size,
        fill=FILL,
        used=rom.size - rom.content.count(FILL),
        crc32=zlib.crc32(rom.content),
    )


def _compared(rom: Rom, folder: Path) -> ChipImage:
    line = described(rom)
    before = _image_before(rom, folder)
    if before is None:
        return replace(line, burn="new")
    differing = count_differences(rom.content, before)
    return replace(line, burn="again" if differing else "keep", differing=differing)


def _image_before(rom: Rom, folder: Path) -> bytes | None:
    for end in FORMATS:
        path = folder / f"{rom.name}.{end}"
        if path.is_file():
            return read_image(path)
    return None


def count_differences(one: bytes, other: bytes) -> int:
    """In how many places they differ; what only one of them has differs, too."""
    return sum(a != b for a, b in zip(one, other, strict=False)) + abs(len(one) - len(other))
