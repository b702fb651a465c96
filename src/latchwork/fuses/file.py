"""Fuse files of JEDEC standard JESD3: read with every error named by its place, and written."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass, field

from latchwork.base.position import Position
from latchwork.fuses.words import Word

LARGEST = 1 << 16
"""Fuses of the largest device that is read; programmable logic in dual in-line packages has fewer than 6,000."""

_START, _END = "\x02", "\x03"
_SPACES = " \r\n\t"
_SKIPPED = "ADJPRSTUX"  # access time, device, identity, pins, resulting and starting vector, test cycles, user data
_CONDITIONS = frozenset("0123456789BCDFHKLNPUXZ")
_ROW = 40


@dataclass(frozen=True)
class FuseFile:
    """``fuses``: "0" (connected) or "1" for every fuse, the first with number 0. ``vectors``: test conditions in the
    order of their numbers, a letter a pin. ``secured``: the device can't be read back."""

    fuses: str
    pins: int = 0
    header: str = ""
    notes: tuple[str, ...] = ()
    vectors: tuple[str, ...] = ()
    secured: bool = False


def fuse_checksum(fuses: str) -> int:
    """The 16-bit sum of bytes made of the fuses, the first one lowest; the last byte is filled with zeros."""
    return sum(int(fuses[start : start + 8][::-1], 2) for start in range(0, len(fuses), 8)) & 0xFFFF


def transmission_checksum(text: str) -> int:
    """The 16-bit sum of all characters from STX to ETX, both included."""
    return sum(text.encode("latin-1", "replace")) & 0xFFFF


def written(file: FuseFile, row: int = _ROW) -> str:
    """The text of a fuse file with both checksums, ``row`` fuses a line. Lines end as the standard has it."""
    header = file.header.replace("*", " ").strip()
    lines = [f"{_START}{header}*"]
    lines += [f"N {note.replace('*', ' ')}*" for note in file.notes]
    if file.pins:
        lines.append(f"QP{file.pins}*")
    lines.append(f"QF{len(file.fuses)}*")
    if file.vectors:
        lines.append(f"QV{len(file.vectors)}*")
    lines += [f"G{int(file.secured)}*", "F0*"]
    rows = ((start, file.fuses[start : start + row]) for start in range(0, len(file.fuses), row))
    lines += [f"L{start:04} {states}*" for start, states in rows if "1" in states]
    lines.append(f"C{fuse_checksum(file.fuses):04X}*")
    lines += [f"V{number:04} {vector}*" for number, vector in enumerate(file.vectors, 1)]
    text = "\r\n".join(lines) + "\r\n" + _END
    return f"{text}{transmission_checksum(text):04X}\r\n"


def read(text: str, name: str) -> FuseFile:
    """What a fuse file called ``name`` holds. Raises LatchworkError at the first thing that is not right."""
    return _Reader(text, name).read()


@dataclass
class _Reader:
    text: str
    name: str
    fuses: dict[int, str] = field(default_factory=dict)
    count: int = -1
    pins: int = 0
    default: str = ""
    secured: bool = False
    notes: list[str] = field(default_factory=list)
    vectors: list[str] = field(default_factory=list)
    checksum: tuple[int, int] | None = None  # place, value

    def __post_init__(self) -> None:
        self.lines = [0, *(match.end() for match in re.finditer("\r\n|\r|\n", self.text))]

    def read(self) -> FuseFile:
        start = self.text.find(_START)
        if start < 0:
            hint = "a fuse file begins with it; read the device again, or write the file again"
            raise self.place(0).refusal("F101", "the file has no start-of-text character (02 hex)", hint)
        end = self.text.find(_END, start)
        body = self.text[: end if end >= 0 else len(self.text)]
        at = body.find("*", start)
        if at < 0:
            raise self.place(len(body)).refusal("F102", "the file ends before the * that closes its header")
        header = body[start + 1 : at].strip()
        self._fields(body, at + 1, missing=end < 0)
        self._end(start, end)
        return FuseFile(self._all(), self.pins, header, tuple(self.notes), tuple(self.vectors), self.secured)

    def _fields(self, body: str, at: int, *, missing: bool) -> None:
        while True:
            while at < len(body) and body[at] in _SPACES:
                at += 1
            if at == len(body):
                break
            end = body.find("*", at)
            if end < 0:
                raise self.place(at).refusal("F102", f'the field "{body[at]}" has no * at its end')
            self._field(at, body[at:end])
            at = end + 1
        if missing:
            raise self.place(len(body)).refusal("F102", "the file has no end-of-text character (03 hex)",
                               "it broke off while it was sent; read the device again")  # fmt: skip

    def _field(self, at: int, field: str) -> None:
        letter = field[0] if field else "*"
        known = {"Q": self._values, "F": self._default, "L": self._list, "K": self._hexadecimal, "C": self._sum,
                 "G": self._security, "V": self._vector}.get(letter)  # fmt: skip
        if known:
            known(at, field)
        elif letter == "N":
            self.notes.append(" ".join(field[1:].split()))
        elif letter not in _SKIPPED:
            hint = "the fields are QF, QP, QV, F, L, K, C, G, N, V, and A, D, J, P, R, S, T, U, X"
            raise self.place(at).refusal("F103", f"no field begins with {letter!r}", hint)

    def _values(self, at: int, field: str) -> None:
        kind, number = field[1:2], field[2:].strip()
        if kind not in ("F", "P", "V") or not _is_number(number):
            raise self.place(at).refusal("F104", f'"{_short(field)}" is none of QF, QP and QV with a number')
        if kind == "P":
            self.pins = int(number)
        elif kind == "F":
            if self.count >= 0:
                raise self.place(at).refusal("F104", "the number of fuses is given twice")
            self.count = int(number)
            if not 0 < self.count <= LARGEST:
                raise self.place(at).refusal("F104", f"QF says {self.count} fuses; 1 to {LARGEST} are read")

    def _default(self, at: int, field: str) -> None:
        if field[1:].strip() not in ("0", "1"):
            raise self.place(at).refusal("F104", f'"{_short(field)}" is neither F0 nor F1')
        self.default = field[1:].strip()

    def _security(self, at: int, field: str) -> None:
        if field[1:].strip() not in ("0", "1"):
            raise self.place(at).refusal("F104", f'"{_short(field)}" is neither G0 nor G1')
        self.secured = field[1:].strip() == "1"

    def _list(self, at: int, field: str) -> None:
        found = re.match(r"L(\d{1,9})[ \r\n\t]+", field)
        if not found:
            raise self.place(at).refusal(
                "F104", f'"{_short(field)}" is no L with the number of its first fuse and a blank'
            )
        if self.count < 0:
            raise self.place(at).refusal("F104", "fuses are listed before QF says how many there are")
        fuse = int(found[1])
        for offset in range(found.end(), len(field)):
            letter = field[offset]
            if letter in _SPACES:
                continue
            if letter not in "01":
                raise self.place(at + offset).refusal("F104", f"{letter!r} is no fuse; a fuse is 0 or 1")
            self._fuse(at + offset, fuse, letter)
            fuse += 1

    def _hexadecimal(self, at: int, field: str) -> None:
        """A list with four fuses a digit, the first one highest."""
        found = re.match(r"K(\d{1,9})[ \r\n\t]+([0-9A-Fa-f \r\n\t]+)$", field)
        if not found or self.count < 0:
            message = f'"{_short(field)}" is no K, behind QF, with the number of its first fuse and hexadecimal digits'
            raise self.place(at).refusal("F104", message)
        states = "".join(f"{int(digit, 16):04b}" for digit in "".join(found[2].split()))
        for fuse, state in enumerate(states, int(found[1])):
            self._fuse(at, fuse, state)

    def _fuse(self, at: int, fuse: int, state: str) -> None:
        if fuse >= self.count:
            raise self.place(at).refusal("F105", f"this is fuse {fuse}, and QF says that there are {self.count}",
                               f"the last fuse has the number {self.count - 1}")  # fmt: skip
        if self.fuses.setdefault(fuse, state) != state:
            raise self.place(at).refusal("F106", f"fuse {fuse} is {state} here and {self.fuses[fuse]} before")

    def _sum(self, at: int, field: str) -> None:
        if not re.fullmatch(r"C[0-9A-Fa-f]{4}", field.strip()):
            raise self.place(at).refusal("F104", f'"{_short(field)}" is no C with four hexadecimal digits')
        self.checksum = (at, int(field[1:5], 16))

    def _vector(self, at: int, field: str) -> None:
        found = re.match(r"V(\d{1,9})[ \r\n\t]+", field)
        if not found:
            raise self.place(at).refusal("F104", f'"{_short(field)}" is no V with a number and a blank')
        vector = "".join(field[found.end() :].split())
        wrong = next((letter for letter in vector if letter not in _CONDITIONS), "")
        if wrong:
            message = f"{wrong!r} is no test condition; they are 0 to 9, B, C, D, F, H, K, L, N, P, U, X, Z"
            raise self.place(at).refusal("F104", message)
        if self.pins and len(vector) != self.pins:
            raise self.place(at).refusal(
                "F110", f"the vector has {len(vector)} conditions, and QP says {self.pins} pins"
            )
        self.vectors.append(vector)

    def _all(self) -> str:
        if self.count < 0:
            raise self.place(len(self.text)).refusal(
                "F107", "the file has no QF field, which says how many fuses there are"
            )
        if not self.default and len(self.fuses) < self.count:
            gap = next(fuse for fuse in range(self.count) if fuse not in self.fuses)
            raise self.place(len(self.text)).refusal("F107", f"nothing is said about fuse {gap}",
                               "list it, or give the state of all others by F0 or F1")  # fmt: skip
        fuses = "".join(self.fuses.get(fuse, self.default) for fuse in range(self.count))
        if self.checksum and self.checksum[1] != fuse_checksum(fuses):
            at, said = self.checksum
            message = f"the fuse checksum is {said:04X}, the fuses give {fuse_checksum(fuses):04X}"
            raise self.place(at).refusal("F108", message, "a fuse was lost or changed; read the device again")
        return fuses

    def _end(self, start: int, end: int) -> None:
        """The sum behind the end; 0000 and none at all mean that nobody worked it out."""
        found = re.match(r"[0-9A-Fa-f]{4}", self.text[end + 1 : end + 5])
        if not found:
            if self.text[end + 1 :].strip():
                raise self.place(end + 1).refusal(
                    "F104", "what stands behind the end is no sum of four hexadecimal digits"
                )
            return
        said, real = int(found[0], 16), transmission_checksum(self.text[start : end + 1])
        if said not in (0, real):
            message = f"the transmission checksum is {said:04X}, the characters give {real:04X}"
            raise self.place(end + 1).refusal("F109", message, "0000 in its place says that it is not to be checked")

    def place(self, at: int) -> Word:
        """The character with an index."""
        line = bisect_right(self.lines, at)
        return Word("", Position(self.name, line, at - self.lines[line - 1] + 1))


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) < 10


def _short(field: str) -> str:
    shown = " ".join(field.split())
    return shown if len(shown) <= 20 else f"{shown[:20]}..."
