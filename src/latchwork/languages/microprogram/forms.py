"""The assembly form of an instruction: its operands, its syntax items, its name for a choice of words."""

from __future__ import annotations

from collections.abc import Mapping

from latchwork.languages.microprogram.declarations import Declarations
from latchwork.languages.microprogram.errors import Findings, near
from latchwork.languages.microprogram.tree import InstructionBlock
from latchwork.model import Instruction, Operand, OperandKind, SyntaxItem


def operands_of(block: InstructionBlock, declared: Declarations, findings: Findings) -> tuple[Operand, ...] | None:
    """The operands after ``with``; None where one of them could not be made out."""
    found: dict[str, Operand] = {}
    sound = True
    for name, kind in block.operands:
        if name.text in found:
            message = f"operand `{name.text}` is declared twice in one instruction"
            findings.add("U106", message, name.position)
        elif kind.text in declared.kinds:
            found[name.text] = Operand(name.text, declared.kinds[kind.text])
        else:
            sound = False
            if kind.text not in declared.broken:
                hint = near(kind.text, declared.kinds) or f"declare it: `operand {kind.text}  8 bits`"
                findings.add("U110", f"no operand kind `{kind.text}`", kind.position, help=hint)
    return tuple(found.values()) if sound else None


def syntax_of(block: InstructionBlock, operands: Mapping[str, OperandKind]) -> tuple[SyntaxItem, ...]:
    """The form behind the mnemonic: operands by their names, everything else literal."""
    return tuple(SyntaxItem(word.text, word.text in operands) for word in block.form[1:])


def with_words(mnemonic: str, syntax: tuple[SyntaxItem, ...], words: Mapping[str, str]) -> str:
    """The form with operands replaced: ``load acc, #n``."""
    items = tuple(SyntaxItem(words.get(item.text, item.text) if item.operand else item.text) for item in syntax)
    return Instruction(mnemonic, items, (), ()).form
