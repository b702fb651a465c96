"""The reference card: every instruction with its code, clocks and meaning, straight from the instruction records."""

from __future__ import annotations

from latchwork.model import CodeBits, Instruction, Model, OperandKind
from latchwork.problems import LatchworkError, Problem
from latchwork.reports.card import Card, CardLine, CardOperand


def card(model: Model) -> Card:
    """Raises LatchworkError for a machine without microprogram."""
    if model.control is None:
        hint = "instructions come from a microprogram; this machine states none"
        raise LatchworkError(Problem("R401", "this machine has no instructions", help=hint))
    instructions = model.control.instructions
    kinds = {operand.kind.name: operand.kind for each in instructions for operand in each.operands}
    operands = tuple(CardOperand(name, _what(kinds[name])) for name in sorted(kinds))
    return Card(model.netlist.name, tuple(_line(each) for each in instructions), operands)


def _line(instruction: Instruction) -> CardLine:
    code = tuple("".join(_bits(bits) for bits in word) for word in instruction.code)
    return CardLine(instruction.form, code, instruction.clocks, " ".join(instruction.meaning.split()))


def _bits(bits: CodeBits) -> str:
    return bits.operand[:1] * bits.width if bits.operand else format(bits.value, f"0{bits.width}b")


def _what(kind: OperandKind) -> str:
    if kind.choices:
        return ", ".join(word for word, _ in kind.choices)
    span = f"{kind.bits} bits, {kind.low} to {kind.high}"
    return f"{span}, counted from the next instruction" if kind.relative else span
