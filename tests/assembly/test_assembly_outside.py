"""The MOS 6502 as a set of instruction records: the code must be that of another assembler.

Outside reference: tests/data/mos6502_code.json, all 151 opcodes and some 380 lines with random operands as the
assembler of py65 1.2.0 (package registry) codes them. Its addresses of one byte are written ``page n`` here, because a
form is chosen by its words and marks, never by a value.
"""

import json
from pathlib import Path

from instruction_sets import BYTE, CELL, NEAR, WIDE, instruction

from latchwork.languages.assembly.assemble import assemble_text
from latchwork.languages.assembly.disassemble import disassembled
from latchwork.languages.assembly.target import Place, Target
from latchwork.model import Instruction, OperandKind

DATA = json.loads((Path(__file__).parent.parent / "data" / "mos6502_code.json").read_text())
FORMS: dict[str, tuple[str, OperandKind | None]] = {
    "imp": ("", None),
    "acc": (" a", None),
    "imm": (" #n", BYTE),
    "zpg": (" page n", CELL),
    "zpx": (" page n, x", CELL),
    "zpy": (" page n, y", CELL),
    "abs": (" n", WIDE),
    "abx": (" n, x", WIDE),
    "aby": (" n, y", WIDE),
    "ind": (" (n)", WIDE),
    "inx": (" (n, x)", CELL),
    "iny": (" (n), y", CELL),
    "rel": (" n", NEAR),
}


def record(mnemonic: str, mode: str, opcode: int) -> Instruction:
    form, kind = FORMS[mode]
    if kind is None:
        return instruction(mnemonic + form, f"{opcode:08b}")
    operand = "n.low n.high" if kind is WIDE else "n"
    return instruction(mnemonic + form, f"{opcode:08b} {operand}", n=kind)


def the_6502() -> Target:
    """Marked forms first, so that `jmp (n)` is not taken for `jmp n` with a number in brackets."""
    records = [record(*entry) for entry in DATA["opcodes"]]
    records.sort(key=lambda one: not (one.syntax and one.syntax[0].text in ("(", "#", "page")))
    return Target(tuple(records), (Place("program", "memory", 0, 0x10000),))


def test_code_is_that_of_another_assembler() -> None:
    lines = DATA["lines"]
    program = assemble_text(f" .org {lines[0][0]}\n" + "\n".join(f" {text}" for _, text, _ in lines), the_6502())
    words = program.words["memory"]
    for address, text, code in lines:
        expected = bytes.fromhex(code)
        assert (text, bytes(words[address + at] for at in range(len(expected)))) == (text, expected)


def test_disassembly_finds_every_line_again() -> None:
    target = the_6502()
    lines = DATA["lines"]
    program = assemble_text(f" .org {lines[0][0]}\n" + "\n".join(f" {text}" for _, text, _ in lines), target)
    text = disassembled(program, target)
    assert ".byte" not in text
    assert assemble_text(text, target).words == program.words
