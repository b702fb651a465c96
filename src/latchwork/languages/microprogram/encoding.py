"""Code bits: from ``code 0100_000r a.low a.high`` to runs of bits, and to the opcodes an instruction covers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import product

from latchwork.languages.microprogram.errors import Findings, counted, near
from latchwork.languages.microprogram.numbers import number
from latchwork.languages.microprogram.tree import Word
from latchwork.model import CodeBits, Operand, OperandKind

_PART = re.compile(r"(\w+)\.(\w+)")
_SLICE = re.compile(r"(\w+)\[(\d+)(?::(\d+))?\]")
Code = tuple[tuple[CodeBits, ...], ...]


@dataclass
class _Reading:
    """The pieces of one ``code``, read from left to right."""

    operands: dict[str, OperandKind]
    width: int
    findings: Findings
    words: list[tuple[CodeBits, ...]] = field(default_factory=list)
    pieces: list[Word] = field(default_factory=list)  # of the word that is being filled
    bits: list[CodeBits] = field(default_factory=list)
    letters: dict[str, int] = field(default_factory=dict)  # bits of an operand given by letters so far
    sound: bool = True

    def complain(self, code: str, message: str, piece: Word, help: str = "") -> None:
        self.findings.add(code, message, piece.position, help=help)
        self.sound = False


def encode(pieces: tuple[Word, ...], operands: dict[str, OperandKind], width: int, findings: Findings) -> Code | None:
    """The code words that ``pieces`` describe; None where they could not be read."""
    reading = _Reading(operands, width, findings)
    for piece in pieces:
        _take(reading, piece, _read(reading, piece))
    if reading.bits and reading.sound:
        _short(reading)
    return tuple(reading.words) if reading.sound else None


def _take(reading: _Reading, piece: Word, bits: list[CodeBits]) -> None:
    """Adds a piece to the word being filled; a word that is full is done."""
    if not reading.sound:
        return
    size, filled = _size(bits), _size(reading.bits)
    if filled + size > reading.width:
        _too_long(reading, piece, size) if not filled else _short(reading)
        return
    reading.bits += bits
    reading.pieces.append(piece)
    if filled + size == reading.width:
        reading.words.append(tuple(reading.bits))
        reading.bits, reading.pieces = [], []


def _size(bits: list[CodeBits]) -> int:
    return sum(run.width for run in bits)


def _too_long(reading: _Reading, piece: Word, size: int) -> None:
    wide = piece.text in reading.operands and size <= 2 * reading.width
    hint = f"write `{piece.text}.low {piece.text}.high`, in the order of the addresses" if wide else ""
    message = f"`{piece.text}` has {counted(size, 'bit')}; a code word has {reading.width}"
    reading.complain("U114", message, piece, help=hint)


def _short(reading: _Reading) -> None:
    text = " ".join(piece.text for piece in reading.pieces)
    message = f"the code word `{text}` has {counted(_size(reading.bits), 'bit')}, not {reading.width}"
    reading.complain("U114", message, reading.pieces[0])


# ---- one piece


def _read(reading: _Reading, piece: Word) -> list[CodeBits]:
    if piece.text in reading.operands:
        return [CodeBits(reading.operands[piece.text].bits, operand=piece.text)]
    if part := _PART.fullmatch(piece.text):
        return _part(reading, piece, part[1], part[2])
    if cut := _SLICE.fullmatch(piece.text):
        return _slice(reading, piece, cut[1], number(cut[2]), number(cut[3] or cut[2]))
    return _pattern(reading, piece)


def _kind(reading: _Reading, piece: Word, name: str) -> OperandKind | None:
    if name not in reading.operands:
        reading.complain("U115", f"`{name}` is no operand of this instruction", piece, near(name, reading.operands))
    return reading.operands.get(name)


def _part(reading: _Reading, piece: Word, name: str, part: str) -> list[CodeBits]:
    kind = _kind(reading, piece, name)
    if not kind:
        return []
    if part not in ("low", "high"):
        reading.complain("U115", f"`{part}` is no part of `{name}`", piece, "a part is `low`, `high` or `[7:0]`")
        return []
    low = reading.width if part == "high" else 0
    if kind.bits <= reading.width:
        reading.complain("U114", f"`{name}` has {counted(kind.bits, 'bit')} and needs no parts", piece)
        return []
    return [CodeBits(kind.bits - low if low else reading.width, operand=name, low=low)]


def _slice(reading: _Reading, piece: Word, name: str, high: int, low: int) -> list[CodeBits]:
    kind = _kind(reading, piece, name)
    if not kind:
        return []
    if not low <= high < kind.bits:
        message = f"`{piece.text}` lies outside of `{name}`, which has bits {kind.bits - 1} to 0"
        reading.complain("U115", message, piece, "the higher bit stands first: `[7:0]`")
        return []
    return [CodeBits(high - low + 1, operand=name, low=low)]


def _pattern(reading: _Reading, piece: Word) -> list[CodeBits]:
    """Bits and letters: runs of one letter are the operand's bits, highest first, through the whole code."""
    found: list[CodeBits] = []
    for run in re.finditer(r"([01]+)|(([A-Za-z])\3*)", piece.text.replace("_", "")):
        if run[1]:
            found.append(CodeBits(len(run[1]), value=int(run[1], 2)))
        elif bits := _letters(reading, piece, run[3], len(run[2])):
            found.append(bits)
    if strange := re.search(r"[^01_A-Za-z]", piece.text):
        reading.complain(
            "U115", f"`{strange[0]}` in `{piece.text}` is no code bit", piece, "a bit is 0, 1 or an operand's letter"
        )
    return found


def _letters(reading: _Reading, piece: Word, letter: str, count: int) -> CodeBits | None:
    kind = reading.operands.get(letter)
    if not kind:
        _unknown_letter(reading, piece, letter)
        return None
    given = reading.letters[letter] = reading.letters.get(letter, 0) + count
    if given > kind.bits:
        message = f"`{piece.text}` has more letters `{letter}` than the operand has bits, which are {kind.bits}"
        reading.complain("U114", message, piece)
        return None
    return CodeBits(count, operand=letter, low=kind.bits - given)


def _unknown_letter(reading: _Reading, piece: Word, letter: str) -> None:
    if re.search(r"[01]", piece.text):
        message = f"the letter `{letter}` in `{piece.text}` is no operand of this instruction"
        reading.complain("U115", message, piece, "declare it: `with r reg`, before `code`")
    else:
        message = f"`{piece.text}` is no operand of this instruction"
        reading.complain("U115", message, piece, near(piece.text, reading.operands))


# ---- what is covered


def missing_and_repeated(code: Code, operand: str, kind: OperandKind) -> tuple[list[int], list[int]]:
    """Bits of an operand that the code does not hold, and those it holds twice."""
    counts = [0] * kind.bits
    for run in (run for word in code for run in word if run.operand == operand):
        for bit in range(run.low, run.low + run.width):
            counts[bit] += 1
    return [b for b, count in enumerate(counts) if not count], [b for b, count in enumerate(counts) if count > 1]


def places(code: Code, operand: str) -> set[int]:
    """The numbers of the code words in which an operand occurs."""
    return {index for index, word in enumerate(code) for run in word if run.operand == operand}


def opcodes(
    word: tuple[CodeBits, ...], operands: tuple[Operand, ...]
) -> Iterator[tuple[dict[str, str], tuple[int, int]]]:
    """For each choice of the word operands in the opcode word: the chosen words, and (mask, value) of the opcode."""
    present = {run.operand for run in word}
    chosen = [operand for operand in operands if operand.kind.choices and operand.name in present]
    for choice in product(*(operand.kind.choices for operand in chosen)):
        words = {operand.name: text for operand, (text, _) in zip(chosen, choice, strict=True)}
        values = {operand.name: value for operand, (_, value) in zip(chosen, choice, strict=True)}
        yield words, _mask_and_value(word, values)


def _mask_and_value(word: tuple[CodeBits, ...], values: dict[str, int]) -> tuple[int, int]:
    mask = value = 0
    for run in word:
        ones = (1 << run.width) - 1
        known = not run.operand or run.operand in values
        bits = values[run.operand] >> run.low if run.operand in values else run.value
        mask = mask << run.width | (ones if known else 0)
        value = value << run.width | (bits & ones if known else 0)
    return mask, value
