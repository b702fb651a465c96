"""What is reported about ROM images."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ChipImage:
    """One ROM. ``file`` is the base name of its files. ``burn``: "" where nothing is compared, else "keep", "new"
    (no file of it stands in the folder) or "again"; ``differing``: how many bytes differ then."""

    reference: str
    part: str
    board: str
    label: str
    holds: str
    file: str
    size: int
    fill: int
    used: int  # bytes that are not the fill byte
    crc32: int
    burn: str = ""
    differing: int = 0


@dataclass(frozen=True)
class FusedChip:
    """A programmable device. ``file`` is the base name of its fuse file; ``checksum`` the standard's, of its fuses;
    ``burn`` as with ROMs, ``differing`` counts fuses."""

    reference: str
    part: str
    board: str
    label: str
    file: str
    fuses: int
    checksum: str
    burn: str = ""
    differing: int = 0


@dataclass(frozen=True)
class ImagesReport:
    """All ROMs with contents, references of those without, all programmable devices, and the names of the files
    written to ``folder``."""

    machine: str
    chips: tuple[ChipImage, ...]
    empty: tuple[str, ...] = ()
    folder: str = ""
    files: tuple[str, ...] = ()
    since: str = ""
    devices: tuple[FusedChip, ...] = ()


@dataclass(frozen=True)
class Difference:
    """A byte that is not what it should be."""

    address: int
    should: int
    found: int


@dataclass(frozen=True)
class Match:
    """How well a file fits a chip: how many bytes differ."""

    reference: str
    file: str
    differing: int


@dataclass(frozen=True)
class ReadBackReport:
    """A file read back from a chip against what ``reference`` should hold.

    ``explanation``: what would make such a reading of the right chip, in sentences; ``explained``: how many of the
    differing bytes that accounts for. ``best``: the chips of this size, the best match first.
    """

    file: str
    reference: str
    part: str
    label: str
    size: int
    differing: int
    first: tuple[Difference, ...] = ()
    explanation: tuple[str, ...] = ()
    explained: int = 0
    best: tuple[Match, ...] = ()

    @property
    def good(self) -> bool:
        return not self.differing


@dataclass(frozen=True)
class DecodedRow:
    """One row of a control image. ``lines``: control lines that this chip's bits set otherwise than at rest;
    ``should``: those of the microprogram, where they differ; ``address`` is the chip's own."""

    block: str
    step: int
    conditions: tuple[tuple[str, int], ...]
    address: int
    lines: tuple[str, ...]
    should: tuple[str, ...]
    same: bool


@dataclass(frozen=True)
class DecodeReport:
    """A control image as instructions and lines. ``decided``: all lines that this chip's bits decide by themselves."""

    file: str
    reference: str
    part: str
    label: str
    decided: tuple[str, ...]
    rows: tuple[DecodedRow, ...]

    @property
    def differing(self) -> int:
        return sum(not row.same for row in self.rows)
