"""Checks on whole blocks and between them; checks on single settings stand in ``settings.py``."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from latchwork.base.position import Position
from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.declarations import Declarations
from latchwork.languages.microprogram.encoding import Code, missing_and_repeated, places
from latchwork.languages.microprogram.errors import Findings, listed, near
from latchwork.languages.microprogram.flat import FlatBlock
from latchwork.languages.microprogram.meaning import FUNCTIONS, PARTS, Call, Name, Part, Statement, nodes
from latchwork.languages.microprogram.names import Names
from latchwork.languages.microprogram.numbers import number
from latchwork.model import OperandKind

_HIGHEST_PIN = 2**24 - 1


def check_body(body: tree.Body, what: str, position: Position, findings: Findings, pinned: bool = True) -> None:
    """A block has steps; its meaning and its pin, where it may have them, come before."""
    steps = False
    for line in body:
        if isinstance(line, tree.MeaningLine | tree.PinLine):
            _check_head_line(line, what, steps, findings, pinned)
        else:
            steps = True
    if not steps:
        hint = "one indented line a step; a step that sets nothing is written `nothing`"
        findings.add("U126", f"{what} has no steps", position, help=hint)
    pins = [line for line in body if isinstance(line, tree.PinLine)]
    for line in pins[1:]:
        findings.add("U106", f"{what} is pinned twice", line.position, (pins[0].position, "first pinned here"))


def _check_head_line(
    line: tree.MeaningLine | tree.PinLine, what: str, after_steps: bool, findings: Findings, allowed: bool
) -> None:
    word = "meaning" if isinstance(line, tree.MeaningLine) else "pin"
    if not allowed:
        hint = "it belongs to an instruction or entry"
        findings.add("U107", f"{what} is used in other blocks and can't have a `{word}` line", line.position, help=hint)
    elif after_steps:
        findings.add("U107", f"the `{word}` line of {what} stands after a step", line.position, help="it comes first")
    if isinstance(line, tree.PinLine) and number(line.address.text) > _HIGHEST_PIN:
        message = f"`{line.address.text}` is no micro-address; the highest is {_HIGHEST_PIN:#x}"
        findings.add("U105", message, line.address.position)


# ---- operands


def check_operands(
    block: tree.InstructionBlock, code: Code, kinds: Mapping[str, OperandKind], findings: Findings
) -> None:
    """Each operand stands once in the form and, with all its bits, once in the code."""
    form = [word.text for word in block.form[1:]]
    for name, _ in block.operands:
        kind = kinds[name.text]
        if name.text not in form:
            hint = "write it where it stands in assembly, or take it out of `with`"
            findings.add("U111", f"operand `{name.text}` does not stand in the form", name.position, help=hint)
        elif form.count(name.text) > 1:
            findings.add("U106", f"operand `{name.text}` stands twice in the form", name.position)
        _check_room(name, code, kind, findings)
        words = places(code, name.text)
        if kind.choices and 0 in words and len(words) > 1:
            message = f"operand `{name.text}` is spread over several code words"
            findings.add("U116", message, name.position, help="an operand of words stands in one code word")


def _check_room(name: tree.Word, code: Code, kind: OperandKind, findings: Findings) -> None:
    missing, repeated = missing_and_repeated(code, name.text, kind)
    if len(missing) == kind.bits:
        hint = f"write `{name.text}`, its bits as letters, or `{name.text}.low {name.text}.high`"
        findings.add("U112", f"the code has no room for operand `{name.text}`", name.position, help=hint)
    elif missing:
        message = f"the code has no room for {_bits(missing)} of operand `{name.text}`"
        findings.add("U112", message, name.position)
    if repeated:
        message = f"{_bits(repeated)} of operand `{name.text}` would stand in the code twice"
        findings.add("U113", message, name.position)


def _bits(numbers: Sequence[int]) -> str:
    """bit 3; bits 7 to 4 and 0"""
    runs: list[list[int]] = []
    for bit in sorted(numbers, reverse=True):
        if runs and runs[-1][-1] == bit + 1:
            runs[-1].append(bit)
        else:
            runs.append([bit])
    texts = [f"{run[0]} to {run[-1]}" if len(run) > 1 else str(run[0]) for run in runs]
    return f"{'bit' if len(numbers) == 1 else 'bits'} {' and '.join(texts)}"


# ---- between blocks


def check_opcodes(blocks: Sequence[FlatBlock], width: int, findings: Findings) -> None:
    """No opcode belongs to two instructions. Blocks are compared by the bits both of them fix."""
    by_mask: dict[int, list[FlatBlock]] = {}
    for block in blocks:
        if block.kind == "instruction":
            by_mask.setdefault(block.opcode[0], []).append(block)
    masks = list(by_mask)
    for index, mask in enumerate(masks):
        for other in masks[index:]:
            _check_pair(by_mask[mask], by_mask[other], mask & other, width, findings)


def _check_pair(
    some: Sequence[FlatBlock], others: Sequence[FlatBlock], common: int, width: int, findings: Findings
) -> None:
    seen: dict[int, FlatBlock] = {}
    for block in some:
        first = seen.setdefault(block.opcode[1] & common, block)
        if some is others and first is not block:
            _one_opcode(first, block, width, findings)
    if some is not others:
        for block in others:
            if (earlier := seen.get(block.opcode[1] & common)) is not None:
                _one_opcode(earlier, block, width, findings)


def _one_opcode(one: FlatBlock, other: FlatBlock, width: int, findings: Findings) -> None:
    if one.position == other.position:  # one instruction with itself: its operands have been complained about
        return
    first, second = sorted((one, other), key=lambda block: block.position)
    opcode = first.opcode[1] | second.opcode[1]
    message = f"the opcode {opcode:0{width}b} belongs to `{second.name}` and to `{first.name}`"
    findings.add("U117", message, second.position, (first.position, f"`{first.name}`"))


def check_alike(blocks: Iterable[FlatBlock], findings: Findings) -> None:
    """No two instructions are written alike, with the same names or with operands of the same kinds."""
    seen: dict[tuple[str, ...], FlatBlock] = {}
    for block in blocks:
        if not block.instruction:
            continue
        kinds = {operand.name: operand.kind.name for operand in block.instruction.operands}
        words = (kinds.get(word, word) for word in re.findall(r"[\w.]+|\S", block.name))
        for key in ((block.name,), ("kinds", *words)):
            first = seen.setdefault(key, block)
            if first.position != block.position:
                _alike(first, block, findings)


def _alike(first: FlatBlock, second: FlatBlock, findings: Findings) -> None:
    message = f"`{second.name}` and `{first.name}` are written alike"
    if first.name == second.name:
        message = f"two instructions are written `{second.name}`"
    findings.add("U118", message, second.position, (first.position, "the other one"))


def check_entries(blocks: Iterable[FlatBlock], findings: Findings) -> None:
    """Entries and ``other opcodes`` stand once each."""
    seen: dict[tuple[str, str], FlatBlock] = {}
    for block in (block for block in blocks if block.kind != "instruction"):
        first = seen.setdefault((block.kind, block.name), block)
        if first is not block:
            message = f"`{block.name}` is declared twice"
            findings.add("U106", message, block.position, (first.position, "first declared here"))


def check_pins(blocks: Iterable[tree.Block], findings: Findings) -> None:
    """No micro-address is given to two blocks."""
    seen: dict[int, Position] = {}
    bodies = (b.body for b in blocks if isinstance(b, tree.InstructionBlock | tree.EntryBlock | tree.OtherBlock))
    for line in (line for body in bodies for line in body if isinstance(line, tree.PinLine)):
        first = seen.setdefault(number(line.address.text), line.position)
        if first != line.position:
            message = f"two blocks are pinned at {line.address.text}"
            findings.add("U106", message, line.position, (first, "the other one"))


def check_clashing_names(declared: Declarations, names: Names, findings: Findings) -> None:
    """A shared block, macro or field has no control line's name."""
    lines = names.lines or frozenset()
    named = [(name, block.name.position) for name, block in declared.steps.items()]
    named += [(name, field.position) for name, field in declared.fields.items()]
    for name, position in named:
        if name in lines:
            message = f"`{name}` is a control line of the machine already"
            findings.add("U106", message, position, help="choose another name for this block")
    for field in declared.fields.values():
        for line in field.lines if names.lines is not None else ():
            if line not in lines:
                message = f"field `{field.name}`: the machine has no control line `{line}`"
                findings.add("U120", message, field.position, help=near(line, lines))


# ---- meanings


def check_meaning(
    statements: tuple[Statement, ...], operands: frozenset[str], names: Names, findings: Findings
) -> None:
    """A meaning speaks of operands and of what the machine has, with the functions and parts that exist."""
    for node in nodes(statements):
        if isinstance(node, Call):
            if node.function.text not in FUNCTIONS:
                message = f"a meaning knows no function `{node.function.text}`"
                findings.add("U150", message, node.function.position, help=f"there is {listed(FUNCTIONS)}")
        elif isinstance(node, Part) and node.part not in PARTS:
            message = f"`{node.part}` is no part of a value"
            findings.add("U150", message, node.position, help="a part is `low`, `high` or `[7:0]`")
        elif isinstance(node, Name) and names.nets is not None and node.text not in names.nets | operands:
            message = f"the machine has no `{node.text}`"
            findings.add("U150", message, node.position, help=near(node.text, names.nets | operands))
