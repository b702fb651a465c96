"""What stands on a reference card."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class CardLine:
    """One form of an instruction. ``code``: one text a word, a digit for a fixed bit, the operand's letter for its
    bits; ``clocks``: least and most."""

    form: str
    code: tuple[str, ...]
    clocks: tuple[int, int]
    meaning: str


@dataclass(frozen=True)
class CardOperand:
    """What may stand for an operand."""

    name: str
    what: str


@dataclass(frozen=True)
class Card:
    """Instructions in the order of the microprogram, operands by name."""

    machine: str
    lines: tuple[CardLine, ...]
    operands: tuple[CardOperand, ...]
