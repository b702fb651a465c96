"""Reading an image file of any of the three kinds."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

from latchwork.analysis.rom_contents import FILL
from latchwork.base.position import Position
from latchwork.problems import Label, LatchworkError, Problem
from latchwork.tools.images.records import Piece, read_records

LARGEST = 1 << 20
"""Bytes of the largest ROM in a dual in-line package (8 Mbit); nothing larger is read."""

_ANOTHER = "read the chip again, or name another file"
_RECORD_FILE = re.compile(rb"\s*(:[0-9A-Fa-f]{8}|[Ss][0-9][0-9A-Fa-f]{6})")
_ENDS = {".bin": False, ".hex": True, ".ihx": True, ".ihex": True, ".s19": True, ".s28": True, ".srec": True}


def read_image(path: Path) -> bytes:
    """The bytes from address 0 on; holes between records read as erased bytes. Raises LatchworkError."""
    try:
        if path.is_fifo():
            raise OSError("it is a pipe")
        with path.open("rb") as file:
            content = file.read(8 * LARGEST)
    except OSError as error:
        message = f"this can't be read: {(error.strerror or str(error)).lower()}"
        label = (Label(Position(str(path))),)
        raise LatchworkError(Problem("I110", message, label, "name a file that was written or read back")) from error
    return image_from(content, str(path))


def image_from(content: bytes, file: str) -> bytes:
    """The bytes that a file's content stands for. The end of the name decides the kind, else its first letters."""
    as_records = _ENDS.get(Path(file).suffix.lower(), _RECORD_FILE.match(content) is not None)
    image = _from_records(content.decode("latin-1"), file) if as_records else content
    if not image:
        raise LatchworkError(Problem("I108", "the file holds no bytes", (Label(Position(file)),), _ANOTHER))
    if len(image) > LARGEST:
        message = f"the file holds more than {LARGEST} bytes, the most that a ROM has"
        raise LatchworkError(Problem("I107", message, (Label(Position(file)),), _ANOTHER))
    return image


def _from_records(text: str, file: str) -> bytes:
    records = read_records(text, file)
    pieces = sorted(records.pieces, key=lambda piece: piece.address)
    problems = records.problems or _too_far(pieces) or _overlaps(pieces)
    if problems:
        raise LatchworkError(problems)
    image = bytearray([FILL]) * max((piece.address + len(piece.content) for piece in pieces), default=0)
    for piece in pieces:
        image[piece.address : piece.address + len(piece.content)] = piece.content
    return bytes(image)


def _too_far(pieces: list[Piece]) -> list[Problem]:
    far = [piece for piece in pieces if piece.address + len(piece.content) > LARGEST]
    message = "the record lies at address {:X}, beyond the last of the largest ROM, {:X}"
    return [
        Problem("I107", message.format(piece.address, LARGEST - 1), (Label(piece.position),), "addresses start at 0")
        for piece in far[:1]
    ]


def _overlaps(pieces: list[Piece]) -> list[Problem]:
    found = []
    for before, after in pairwise(pieces):
        if before.address + len(before.content) > after.address:
            first, second = sorted((before, after), key=lambda piece: piece.position)
            labels = (Label(second.position, "here again"), Label(first.position, "already here"))
            found.append(Problem("I105", f"two records hold address {after.address:X}", labels, "take one of them out"))
    return found[:1]
