"""Instruction records written shortly, and a small set of our own to assemble with."""

from __future__ import annotations

import re
from collections.abc import Mapping

from latchwork.languages.assembly.target import Place, Target
from latchwork.model import CodeBits, Instruction, Operand, OperandKind, SyntaxItem

REG = OperandKind("reg", 1, choices=(("acc", 0), ("index", 1)))
BYTE = OperandKind("byte", 8, low=-128, high=255)
CELL = OperandKind("cell", 8, low=0, high=255)
NEAR = OperandKind("near", 8, low=-128, high=127, relative=True)
PLACE = OperandKind("place", 12, low=0, high=4095)
WIDE = OperandKind("wide", 16, low=0, high=65535)


def instruction(form: str, code: str, clocks: tuple[int, int] = (4, 4), **kinds: OperandKind) -> Instruction:
    """``instruction("load r, #n", "0100000r n", r=REG, n=BYTE)``: code words apart by spaces, each bits and letters
    of word operands, or a whole operand ``n``, its bytes ``n.low`` ``n.high``, or ``1000n[11:8]``."""
    mnemonic, *rest = re.findall(r"\w[\w.]*|\S", form)
    syntax = tuple(SyntaxItem(text, text in kinds) for text in rest)
    operands = tuple(Operand(name, kind) for name, kind in kinds.items())
    words = tuple(_word(word, kinds) for word in code.split())
    return Instruction(mnemonic, syntax, operands, words, clocks=clocks)


def _word(word: str, kinds: Mapping[str, OperandKind]) -> tuple[CodeBits, ...]:
    found = []
    for bits, name, part, high, low in re.findall(r"([01]+)|([a-z]+)(?:\.(low|high)|\[(\d+):(\d+)\])?", word):
        if bits:
            found.append(CodeBits(len(bits), int(bits, 2)))
        elif high:
            found.append(CodeBits(int(high) - int(low) + 1, operand=name, low=int(low)))
        elif part:
            found.append(CodeBits(8, operand=name, low=8 if part == "high" else 0))
        else:
            found.append(CodeBits(kinds[name].bits, operand=name))
    return tuple(found)


SMALL = (
    instruction("nothing", "00000000", (2, 2)),
    instruction("halt", "00000001", (3, 3)),
    instruction("clear r", "0000001r", (3, 3), r=REG),
    instruction("set carry", "00001011", (3, 3)),
    instruction("move index, acc", "00001000", (3, 3)),
    instruction("move acc, index", "00001001", (3, 3)),
    instruction("output r", "0000111r", (3, 3), r=REG),
    instruction("output #n", "00010000 n", r=REG, n=BYTE),
    instruction("load r, #n", "0010000r n", r=REG, n=BYTE),
    instruction("load r, [n]", "0010001r n", r=REG, n=CELL),
    instruction("load r, n[index]", "0010010r n", r=REG, n=CELL),
    instruction("store r, [n]", "0010011r n", r=REG, n=CELL),
    instruction("add #n", "01000000 n", n=BYTE),
    instruction("add (n)", "01000001 n", n=CELL),
    instruction("add [index+]", "01000010"),
    instruction("far n", "01000011 n.low n.high", (6, 6), n=WIDE),
    instruction("copy a, b", "01000100 a b", (7, 7), a=CELL, b=CELL),
    instruction("jump t", "1000t[11:8] t[7:0]", (3, 3), t=PLACE),
    instruction("branch carry, t", "10010001 t", (3, 4), t=NEAR),
    instruction("branch not carry, t", "10010010 t", (3, 4), t=NEAR),
)

ROM = Place("rom", "program", 0, 4096, 8, 12)
TABLES = Place("tables", "program", 0xE00, 0x100, 8, 12)
RAM = Place("ram", "data", 0, 256, 8, 8)
TARGET = Target(SMALL, (ROM, TABLES, RAM))


BIG_TARGET = Target(SMALL, (Place("rom", "program", 0, 1 << 20, 8, 20),))
