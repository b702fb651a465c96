"""The blocks of a microprogram to the expanded program: instructions for every choice of words, entries, the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import islice

from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.checks import (
    check_alike,
    check_body,
    check_clashing_names,
    check_entries,
    check_meaning,
    check_opcodes,
    check_operands,
    check_pins,
)
from latchwork.languages.microprogram.declarations import Declarations, declare
from latchwork.languages.microprogram.encoding import Code, encode, opcodes, places
from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.expand import Expander, Scope
from latchwork.languages.microprogram.flat import FlatBlock, FlatProgram, FlatStep, Setting
from latchwork.languages.microprogram.forms import operands_of, syntax_of, with_words
from latchwork.languages.microprogram.names import Names
from latchwork.languages.microprogram.numbers import number
from latchwork.languages.microprogram.settings import check_settings, checked_setting
from latchwork.model import Instruction, Operand, SyntaxItem


@dataclass
class _Work:
    declared: Declarations
    names: Names
    findings: Findings
    expander: Expander
    blocks: list[FlatBlock] = field(default_factory=list)
    instructions: list[Instruction] = field(default_factory=list)


def flatten(blocks: Sequence[tree.Block], names: Names, findings: Findings) -> FlatProgram:
    """Everything looked up, written out and checked; what is wrong stands in ``findings`` afterwards."""
    declared = declare(blocks, findings)
    work = _Work(declared, names, findings, Expander(declared, names, findings))
    for block in blocks:
        match block:
            case tree.StepsBlock():
                _shared(block, work)
            case tree.InstructionBlock():
                _instruction(block, work)
            case tree.EntryBlock():
                _entry(block, work)
            case tree.OtherBlock():
                _other(block, work)
            case tree.RestBlock():
                declared.rests.extend(_rests(block, work))
    check_clashing_names(declared, names, findings)
    check_opcodes(work.blocks, declared.word, findings)
    check_alike(work.blocks, findings)
    check_entries(work.blocks, findings)
    check_pins(blocks, findings)
    rests = check_settings(declared.rests, declared.fields, findings)
    return FlatProgram(tuple(work.blocks), tuple(declared.fields.values()), tuple(work.instructions), rests)


# ---- blocks of steps


def _shared(block: tree.StepsBlock, work: _Work) -> None:
    """Shared steps are written out once though nobody may use them, so that their mistakes show."""
    check_body(block.body, f"`{block.name.text}`", block.name.position, work.findings, pinned=False)
    if block.parameters is None and work.declared.steps.get(block.name.text) is block:
        work.expander.use(tree.Ask(block.name), Scope({}))


def _entry(block: tree.EntryBlock, work: _Work) -> None:
    check_body(block.body, f"entry `{block.name.text}`", block.name.position, work.findings)
    _check_meaning(block.body, frozenset(), work)
    work.blocks.append(
        FlatBlock(
            kind="entry",
            name=block.name.text,
            steps=work.expander.steps(block.body, Scope({})),
            pinned=_pinned(block.body),
            position=block.name.position,
            meaning=_meaning(block.body),
        )
    )


def _other(block: tree.OtherBlock, work: _Work) -> None:
    if block.use is None:
        check_body(block.body, "`other opcodes`", block.position, work.findings)
    elif any(isinstance(line, tree.StepLine | tree.WhenLine) for line in block.body):
        message = f"`other opcodes` has steps of its own besides `{block.use.name.text}`"
        work.findings.add("U107", message, block.position, help="put the name on a line below, as its first step")
    used = work.expander.use(block.use, Scope({})) if block.use else ()
    steps = (*used, *work.expander.steps(block.body, Scope({})))
    work.blocks.append(
        FlatBlock(
            "illegal",
            "other opcodes",
            steps,
            pinned=_pinned(block.body),
            position=block.position,
            meaning=_meaning(block.body),
        )
    )


def _rests(block: tree.RestBlock, work: _Work) -> list[Setting]:
    found = []
    for item in block.items:
        if isinstance(item, tree.Use) or item.value is None:
            message = f"`{item.name.text}` at rest needs a level or a value"
            work.findings.add(
                "U132", message, item.name.position, help="write `rest ram_show = 1` or `rest alu = pass`"
            )
        elif made := checked_setting(item.name, item.value, work.declared, work.names, work.findings):
            found.append(made)
    return found


# ---- instructions


def _instruction(block: tree.InstructionBlock, work: _Work) -> None:
    check_body(block.body, f"`{block.form[0].text}`", block.form[0].position, work.findings)
    _check_meaning(block.body, frozenset(name.text for name, _ in block.operands), work)
    operands = operands_of(block, work.declared, work.findings)
    if operands is None:
        return
    kinds = {operand.name: operand.kind for operand in operands}
    code = encode(block.code, kinds, work.declared.word, work.findings)
    if not code:
        return
    check_operands(block, code, kinds, work.findings)
    syntax = syntax_of(block, kinds)
    choices = _choices(block, syntax, operands, code, work)
    instruction = _record(block, syntax, operands, code, choices)
    work.instructions.append(instruction)
    work.blocks.extend(_flat(block, instruction, choice) for choice in choices)


@dataclass(frozen=True)
class _Choice:
    """An instruction for one choice of its word operands."""

    name: str
    opcode: tuple[int, int]
    steps: tuple[FlatStep, ...]


def _choices(
    block: tree.InstructionBlock,
    syntax: tuple[SyntaxItem, ...],
    operands: tuple[Operand, ...],
    code: Code,
    work: _Work,
) -> list[_Choice]:
    reasons = {
        operand.name: _reason(operand)
        for operand in operands
        if not operand.kind.choices or places(code, operand.name) != {0}
    }
    found = []
    # more choices than there are opcodes overlap, which is reported: the rest of them adds nothing
    for words, opcode in islice(opcodes(code[0], operands), 2**work.declared.word + 1):
        steps = work.expander.steps(block.body, Scope(words, reasons=reasons))
        found.append(_Choice(with_words(block.form[0].text, syntax, words), opcode, steps))
    return found


def _record(
    block: tree.InstructionBlock,
    syntax: tuple[SyntaxItem, ...],
    operands: tuple[Operand, ...],
    code: Code,
    choices: Sequence[_Choice],
) -> Instruction:
    lengths = [len(choice.steps) for choice in choices] or [0]
    clocks = min(lengths), max(lengths)
    mnemonic = block.form[0]
    return Instruction(mnemonic.text, syntax, operands, code, _meaning(block.body), clocks, mnemonic.position)


def _flat(block: tree.InstructionBlock, instruction: Instruction, choice: _Choice) -> FlatBlock:
    return FlatBlock(
        kind="instruction",
        name=choice.name,
        steps=choice.steps,
        opcode=choice.opcode,
        instruction=instruction,
        pinned=_pinned(block.body),
        position=instruction.position,
        meaning=instruction.meaning,
    )


def _reason(operand: Operand) -> str:
    """Why an operand can't stand in brackets."""
    if operand.kind.choices:
        return f"`{operand.name}` stands behind the opcode word, which is all that the control store sees"
    return f"`{operand.name}` is a number; only an operand of words can stand in brackets"


def _meaning(body: tree.Body) -> str:
    return "\n".join(line.text for line in body if isinstance(line, tree.MeaningLine))


def _check_meaning(body: tree.Body, operands: frozenset[str], work: _Work) -> None:
    statements = tuple(each for line in body if isinstance(line, tree.MeaningLine) for each in line.statements)
    check_meaning(statements, operands, work.names, work.findings)


def _pinned(body: tree.Body) -> int:
    return next((number(line.address.text) for line in body if isinstance(line, tree.PinLine)), -1)
