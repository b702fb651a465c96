"""Which form of an instruction a line is, by its literal words and marks and by the words an operand may be."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.errors import Refusal, listed, near
from latchwork.languages.assembly.expressions import Expression, read
from latchwork.model import CodeBits, Instruction, OperandKind

_GAP = rf"[\s{grammar.OPEN}{grammar.CLOSE}]*"
_WORD = re.compile(_GAP + r"(\w+)", re.ASCII)


class Written(NamedTuple):
    """An operand as written: its expression and column."""

    expression: Expression
    column: int


Value = int | Written  # int: the code of a word


class Piece(NamedTuple):
    """Bits of an operand in a code word: ``value >> low & mask`` goes to bit ``shift``."""

    operand: int
    low: int
    mask: int
    shift: int


@dataclass(frozen=True)
class Form:
    """An instruction made ready: ``parts`` of its syntax are a pattern for literal text, the index of an operand that
    is a word, or that of one that is an expression; ``code`` a constant and pieces of operands for each word."""

    instruction: Instruction
    kinds: tuple[OperandKind, ...]
    parts: tuple[tuple[re.Pattern[str] | None, str, int], ...]  # pattern, what it expects, operand
    code: tuple[tuple[int, tuple[Piece, ...]], ...]


class Mismatch(NamedTuple):
    """How far a form fitted, and what should have stood there; ``refusal`` where an expression was at fault."""

    at: int
    expected: str
    refusal: Refusal | None = None


def forms_of(instructions: Iterable[Instruction]) -> dict[str, list[Form]]:
    """The forms of each mnemonic, in small letters, in the order in which the machine declares them."""
    found: dict[str, list[Form]] = {}
    for instruction in instructions:
        found.setdefault(instruction.mnemonic.lower(), []).append(_form(instruction))
    return found


def reserved_words(instructions: Iterable[Instruction]) -> frozenset[str]:
    """Words (in small letters) that stand in instruction forms, so that they can't be names in an operand."""
    literal = {item.text for i in instructions for item in i.syntax if not item.operand}
    chosen = {name for i in instructions for operand in i.operands for name, _ in operand.kind.choices}
    return frozenset(word.lower() for word in literal | chosen if grammar.plain_name.fullmatch(word))


def _form(instruction: Instruction) -> Form:
    indices = {operand.name: index for index, operand in enumerate(instruction.operands)}
    kinds = tuple(operand.kind for operand in instruction.operands)
    parts: list[tuple[re.Pattern[str] | None, str, int]] = []
    for item in instruction.syntax:
        if not item.operand:
            parts.append((_literal(item.text), item.text, -1))
        elif kinds[indices[item.text]].choices:
            parts.append((_WORD, "", indices[item.text]))
        else:
            parts.append((None, item.text, indices[item.text]))
    return Form(instruction, kinds, tuple(parts), tuple(_code_word(word, indices) for word in instruction.code))


def _literal(text: str) -> re.Pattern[str]:
    end = r"(?![\w.])" if re.fullmatch(r".*\w", text, re.ASCII) else ""
    return re.compile(_GAP + re.escape(text) + end, re.ASCII | re.IGNORECASE)


def _code_word(word: tuple[CodeBits, ...], indices: dict[str, int]) -> tuple[int, tuple[Piece, ...]]:
    base, shift, pieces = 0, 0, []
    for run in reversed(word):
        if run.operand:
            pieces.append(Piece(indices[run.operand], run.low, (1 << run.width) - 1, shift))
        else:
            base |= run.value << shift
        shift += run.width
    return base, tuple(pieces)


def matched(forms: list[Form], text: str, column: int, reserved: frozenset[str]) -> tuple[Form, list[Value]]:
    """The first form that the text fits, with the values of its operands. Raises Refusal; ``column``: of ``text``."""
    misses = []
    for form in forms:
        result = _attempt(form, text, column, reserved)
        if isinstance(result, list):
            return form, result
        misses.append(result)
    raise _refusal(forms, text, column, misses)


def _attempt(form: Form, text: str, column: int, reserved: frozenset[str]) -> list[Value] | Mismatch:
    values: list[Value] = [0] * len(form.kinds)
    at = 0
    for pattern, expected, operand in form.parts:
        if pattern is None:
            try:
                expression, end = read(text, at, column, reserved)
            except Refusal as refusal:
                return Mismatch(max(refusal.column - column, at), expected, refusal)
            values[operand] = Written(expression, column + at + _blanks(text, at))
            at = end
            continue
        found = pattern.match(text, at)
        if not found:
            return Mismatch(at, expected)
        if operand >= 0:
            code = _choice(form.kinds[operand], found[1])
            if code is None:
                return Mismatch(at, "")
            values[operand] = code
        at = found.end()
    rest = grammar.gap.match(text, at)
    return values if rest and rest.end() == len(text) else Mismatch(at, "the end of the line")


def _blanks(text: str, at: int) -> int:
    found = grammar.gap.match(text, at)
    return found.end() - at if found else 0


def _choice(kind: OperandKind, word: str) -> int | None:
    for name, code in kind.choices:
        if name.lower() == word.lower():
            return code
    return None


# ---- saying what does not fit


def _refusal(forms: list[Form], text: str, column: int, misses: list[Mismatch]) -> Refusal:
    furthest = max(miss.at for miss in misses)
    last = [(form, miss) for form, miss in zip(forms, misses, strict=True) if miss.at == furthest]
    broken = [miss.refusal for _, miss in last if miss.refusal]
    written = f"it is written {listed(dict.fromkeys(form.instruction.form for form in forms))}"
    if broken and len(broken) == len(last):
        return Refusal(broken[0].code, broken[0].message, broken[0].column, broken[0].help or written)
    mnemonic = forms[0].instruction.mnemonic
    at = furthest + _blanks(text, furthest)
    found = grammar.word.match(text, at)
    shown = f"`{found[0]}`" if found else "the end of the line"
    words = sorted({word for form, miss in last for word in _expected(form, miss)})
    message = f"found {shown} where {_choice_of(words)} should stand in `{mnemonic}`"
    hint = near(found[0], [word for word in words if grammar.plain_name.fullmatch(word)]) if found else ""
    return Refusal("A130", message, column + at, f"{hint} {written}".strip())


def _expected(form: Form, miss: Mismatch) -> list[str]:
    if miss.refusal:
        return ["a value"]
    if miss.expected:
        return [miss.expected]
    return [name for kind in form.kinds for name, _ in kind.choices]


def _choice_of(words: list[str]) -> str:
    phrases = [word for word in words if " " in word]
    quoted = [f"`{word}`" for word in words if " " not in word]
    all_words = quoted + phrases
    return all_words[0] if len(all_words) == 1 else f"{', '.join(all_words[:-1])} or {all_words[-1]}"
