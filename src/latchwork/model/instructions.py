"""Instruction records: what the assembler, the disassembler and the reference card know of an instruction."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.base.position import NOWHERE, Position

_TIGHT_BEFORE = (",", "]", ")", "+", "-")
_TIGHT_AFTER = ("#", "[", "(", "+", "-", "@", "*")


@dataclass(frozen=True)
class OperandKind:
    """What may stand in an operand's place.

    ``choices`` is not empty for an operand of words (acc = 0, index = 1). Else it is a number of ``bits`` bits
    within ``low`` .. ``high``; ``relative``: written as an address, coded as the distance from the address of
    the next instruction.
    """

    name: str
    bits: int
    choices: tuple[tuple[str, int], ...] = ()
    low: int = 0
    high: int = 0
    relative: bool = False
    position: Position = NOWHERE


@dataclass(frozen=True)
class Operand:
    """An operand of one instruction: its letter or name there, and its kind."""

    name: str
    kind: OperandKind


@dataclass(frozen=True)
class SyntaxItem:
    """A piece of the assembly form: literal text ("#", ",", "[", "carry") or, with ``operand``, a place for one."""

    text: str
    operand: bool = False


@dataclass(frozen=True)
class CodeBits:
    """A run of code bits, highest first in its word: fixed bits, or bits ``low`` .. ``low+width-1`` of an operand."""

    width: int
    value: int = 0
    operand: str = ""
    low: int = 0


@dataclass(frozen=True)
class Instruction:
    """One instruction. ``code`` has one tuple a word of code, in the order of addresses; the first holds the opcode.

    ``clocks``: least and most clocks it takes, fetch included. ``meaning`` is its register-transfer text.
    """

    mnemonic: str
    syntax: tuple[SyntaxItem, ...]
    operands: tuple[Operand, ...]
    code: tuple[tuple[CodeBits, ...], ...]
    meaning: str = ""
    clocks: tuple[int, int] = (0, 0)
    position: Position = NOWHERE

    @property
    def length(self) -> int:
        return len(self.code)

    @property
    def form(self) -> str:
        """How it is written, for listings and messages: ``load r, #n``, ``load r, n[index]``."""
        text = self.mnemonic
        before = " "
        for item in self.syntax:
            joined = item.text in _TIGHT_BEFORE or before in _TIGHT_AFTER or (item.text in "[(" and before == "operand")
            text += item.text if joined else f" {item.text}"
            before = "operand" if item.operand else item.text
        return text
