"""Reading the two record formats line by line, so that every mistake has its line and column.

Intel HEX: "Hexadecimal Object File Format Specification", revision A, 1988. S-records: Motorola's format as in the
M68000 family's manuals. Both are checked against the worked records in tests/data/record_examples.json.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from latchwork.base.position import Position
from latchwork.problems import Label, Problem

MOST_PROBLEMS = 20
_NOT_HEX = re.compile(r"[^0-9A-Fa-f]")


@dataclass(frozen=True)
class Piece:
    """Bytes at an address, and the line where they stand."""

    address: int
    content: bytes
    position: Position


@dataclass
class Records:
    """What was read from a file of records."""

    file: str
    pieces: list[Piece] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    ended: bool = False
    base: int = 0
    lines: int = 0

    def wrong(self, code: str, message: str, line: int, column: int, hint: str = "") -> None:
        self.problems.append(Problem(code, message, (Label(Position(self.file, line, column)),), hint))

    def take(self, address: int, content: bytes, line: int) -> None:
        if content:
            self.pieces.append(Piece(address, content, Position(self.file, line, 1)))


def read_records(text: str, file: str) -> Records:
    """All records of a file of either kind, told apart by their first letter."""
    records = Records(file)
    for line, content in _lines(text):
        records.lines = line
        if len(records.problems) >= MOST_PROBLEMS:
            return records
        if records.ended:
            records.wrong("I111", "something stands behind the end record", line, 1, "the end record is the last line")
            return records
        _record(records, line, content)
    if not records.ended and not records.problems:
        records.wrong("I106", "the file breaks off: it has no end record", max(records.lines, 1), 0, _READ_AGAIN)
    return records


_READ_AGAIN = "read the chip again, or write the file again"


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(re.split(r"\r\n|\n|\r", text), start=1):
        if line.strip():
            yield number, line.rstrip()


def _record(records: Records, line: int, content: str) -> None:
    start = content[:1]
    if start == ":":
        _intel(records, line, content)
    elif start in ("S", "s"):
        _motorola(records, line, content)
    else:
        message = f'a record begins with ":" or "S", here stands "{_shown(start)}"'
        records.wrong("I101", message, line, 1, "take out lines that are no records")


def _shown(letter: str) -> str:
    return letter if letter.isprintable() else f"\\x{ord(letter):02x}"


def _digits(records: Records, line: int, content: str, start: int) -> bytes | None:
    """The bytes written as pairs of hexadecimal digits from a column on; None after a problem."""
    found = _NOT_HEX.search(content, start)
    if found:
        message = f'"{_shown(found[0])}" is no hexadecimal digit'
        records.wrong("I101", message, line, found.start() + 1)
        return None
    if (len(content) - start) % 2:
        records.wrong("I102", "the record ends in the middle of a byte", line, len(content), _READ_AGAIN)
        return None
    return bytes.fromhex(content[start:])


def _length_fits(records: Records, line: int, announced: int, present: int) -> bool:
    if announced == present:
        return True
    side = "breaks off" if present < announced else "is too long"
    message = f"the record {side}: it says {announced} bytes, {present} stand here"
    if present < 0:
        message = "the record breaks off before its checksum"
    records.wrong("I102", message, line, 1, _READ_AGAIN)
    return False


def _adds_up(records: Records, line: int, content: str, found: int, wanted: int) -> bool:
    if found == wanted:
        return True
    message = f"the checksum is {found:02X}, the bytes of the record give {wanted:02X}"
    records.wrong("I103", message, line, len(content) - 1, "a byte of this line is wrong; " + _READ_AGAIN)
    return False


_INTEL_LENGTHS = {1: 0, 2: 2, 3: 4, 4: 2, 5: 4}


def _intel(records: Records, line: int, content: str) -> None:
    record = _digits(records, line, content, 1)
    if record is None or not _length_fits(records, line, record[0] if record else 0, len(record) - 5):
        return
    if not _adds_up(records, line, content, record[-1], -sum(record[:-1]) & 0xFF):
        return
    kind, data = record[3], record[4:-1]
    if kind != 0 and _INTEL_LENGTHS.get(kind) != len(data):
        message = f"record type {kind:02X} with {len(data)} bytes does not exist"
        records.wrong("I104", message, line, 8, "types run from 00 (data) to 05")
    elif kind == 0:
        records.take(records.base + int.from_bytes(record[1:3]), data, line)
    elif kind == 1:
        records.ended = True
    elif kind in (2, 4):
        records.base = int.from_bytes(data) << (4 if kind == 2 else 16)


_ADDRESS_BYTES = {0: 2, 1: 2, 2: 3, 3: 4, 5: 2, 6: 3, 7: 4, 8: 3, 9: 2}


def _motorola(records: Records, line: int, content: str) -> None:
    kind = int(content[1]) if content[1:2] in tuple("0123456789") else -1
    if kind not in _ADDRESS_BYTES:
        records.wrong("I104", f'there is no record "{content[:2]}"', line, 2, "S0 to S3 and S5 to S9 exist")
        return
    record = _digits(records, line, content, 2)
    if record is None or not _length_fits(records, line, record[0] if record else 0, len(record) - 1):
        return
    width = _ADDRESS_BYTES[kind]
    if len(record) < width + 2:
        records.wrong("I102", f"the record has no room for its address of {width} bytes", line, 1, _READ_AGAIN)
        return
    if _adds_up(records, line, content, record[-1], ~sum(record[:-1]) & 0xFF):
        _motorola_kind(records, line, kind, int.from_bytes(record[1 : 1 + width]), record[1 + width : -1])


def _motorola_kind(records: Records, line: int, kind: int, address: int, data: bytes) -> None:
    if kind in (1, 2, 3):
        records.take(address, data, line)
    elif kind in (5, 6) and address != len(records.pieces):
        message = f"the count record counts {address} data records, {len(records.pieces)} stand above"
        records.wrong("I109", message, line, 5, _READ_AGAIN)
    elif kind in (7, 8, 9):
        records.ended = True
