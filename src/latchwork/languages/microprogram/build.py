"""From lark's parse tree to the syntax tree. Imported only when something is parsed: lark is slow to import."""

from __future__ import annotations

import re
from typing import Any

from lark import Token, v_args
from lark.visitors import Transformer_NonRecursive

from latchwork.base.position import Position
from latchwork.languages.microprogram import meaning as m
from latchwork.languages.microprogram import tree
from latchwork.languages.microprogram.layout import Lines
from latchwork.languages.microprogram.numbers import number

_Items = tuple[Position, tuple[tree.Item, ...]]


@v_args(inline=True)
class Builder(Transformer_NonRecursive):  # type: ignore[type-arg]
    """Turns the parse tree of one block into its syntax tree, with positions in the whole file."""

    def __init__(self, lines: Lines) -> None:
        super().__init__()
        self._lines = lines

    def _at(self, token: Token) -> Position:
        return Position(self._lines.file, (token.line or 1) + self._lines.first - 1, token.column or 1)

    def _word(self, token: Token) -> tree.Word:
        return tree.Word(re.sub(r"[ \t]", "", token), self._at(token))

    def _words(self, tokens: Any) -> tuple[tree.Word, ...]:
        return tuple(self._word(token) for token in tokens if token is not None)

    # ---- declarations

    def bits(self, count: Token) -> tree.Word:
        return self._word(count)

    def choice(self, name: Token, value: Token) -> tuple[tree.Word, tree.Word]:
        return self._word(name), self._word(value)

    def choices(self, bits: tree.Word | None, *choices: tuple[tree.Word, tree.Word]) -> dict[str, Any]:
        return {"bits": bits, "choices": choices}

    def low_to_high(self, low: Token, high: Token) -> tuple[tree.Word, tree.Word]:
        return self._word(low), self._word(high)

    def from_next(self) -> bool:
        return True

    def number(self, bits: tree.Word, ends: Any, relative: bool | None) -> dict[str, Any]:
        low, high = ends or (None, None)
        return {"bits": bits, "low": low, "high": high, "relative": bool(relative)}

    def operand(self, name: Token, rest: dict[str, Any]) -> tree.OperandBlock:
        return tree.OperandBlock(self._word(name), **rest)

    def levels(self, *levels: Token) -> str:
        return "".join(levels)

    def field_lines(self, *names: Token) -> tuple[tree.Word, ...]:
        return self._words(names)

    def field_value(self, name: Token, levels: str, rest: Token | None) -> tree.FieldValue:
        return tree.FieldValue(self._word(name), levels, rest is not None)

    def field(self, name: Token, lines: tuple[tree.Word, ...], *values: tree.FieldValue) -> tree.FieldBlock:
        return tree.FieldBlock(self._word(name), lines, values)

    def rest(self, items: _Items) -> tree.RestBlock:
        return tree.RestBlock(items[1])

    def word(self, bits: Token) -> tree.WordBlock:
        return tree.WordBlock(self._word(bits))

    def include(self, path: Token) -> tree.IncludeBlock:
        return tree.IncludeBlock(tree.Word(path[1:-1], self._at(path)))

    # ---- blocks of steps

    def shared(self, name: Token, body: tree.Body) -> tree.StepsBlock:
        return tree.StepsBlock(self._word(name), None, body)

    def parameters(self, *names: Token | None) -> tuple[tree.Word, ...]:
        return self._words(names)

    def macro(self, name: Token, parameters: tuple[tree.Word, ...], body: tree.Body) -> tree.StepsBlock:
        return tree.StepsBlock(self._word(name), parameters, body)

    def entry(self, name: Token, body: tree.Body) -> tree.EntryBlock:
        return tree.EntryBlock(self._word(name), body)

    def other(self, start: Token, use: tree.Item | None, body: tree.Body) -> tree.OtherBlock:
        return tree.OtherBlock(use, body, self._at(start))

    def form(self, *words: Token) -> tuple[tree.Word, ...]:
        return self._words(words)

    def pair(self, name: Token, kind: Token) -> tuple[tree.Word, tree.Word]:
        return self._word(name), self._word(kind)

    def operands(self, *pairs: tuple[tree.Word, tree.Word]) -> tuple[tuple[tree.Word, tree.Word], ...]:
        return pairs

    def code(self, *pieces: Token) -> tuple[tree.Word, ...]:
        return self._words(pieces)

    def instruction(self, form: Any, operands: Any, code: Any, body: tree.Body) -> tree.InstructionBlock:
        return tree.InstructionBlock(form, operands or (), code, body)

    # ---- lines

    def body(self, *lines: tree.BodyLine) -> tree.Body:
        return lines

    def meaning(self, start: Token, statements: tuple[m.Statement, ...]) -> tree.MeaningLine:
        line = self._lines.lines[(start.line or 1) - 1]
        return tree.MeaningLine(line[(start.end_column or 1) - 1 :].strip(), statements, self._at(start))

    def pin(self, start: Token, address: Token) -> tree.PinLine:
        return tree.PinLine(self._word(address), self._at(start))

    def when(self, start: Token, condition: tree.Condition, items: _Items) -> tree.WhenLine:
        return tree.WhenLine(condition, items[1], self._at(start))

    def otherwise(self, start: Token, items: _Items) -> tree.OtherwiseLine:
        return tree.OtherwiseLine(items[1], self._at(start))

    def items(self, *items: Token | tree.Item) -> _Items:
        first = items[0]
        if isinstance(first, Token):  # `nothing`
            return self._at(first), ()
        return first.name.position, tuple(item for item in items if not isinstance(item, Token))

    def step(self, items: _Items) -> tree.StepLine:
        return tree.StepLine(items[1], items[0])

    def active(self, name: Token) -> tree.Ask:
        return tree.Ask(self._word(name))

    def value(self, value: Token) -> tree.Word:
        return self._word(value)

    def setting(self, name: Token, value: tree.Word) -> tree.Ask:
        return tree.Ask(self._word(name), value)

    def arguments(self, *values: tree.Word | None) -> tuple[tree.Word, ...]:
        return tuple(value for value in values if value is not None)

    def use(self, name: Token, arguments: tuple[tree.Word, ...]) -> tree.Use:
        return tree.Use(self._word(name), arguments)

    def flag(self, name: Token) -> tree.Flag:
        return tree.Flag(self._word(name))

    def not_flag(self, condition: tree.Condition) -> tree.NotFlag:
        return tree.NotFlag(condition)

    def all_of(self, *conditions: tree.Condition) -> tree.AllOf:
        return tree.AllOf(conditions)

    def any_of(self, *conditions: tree.Condition) -> tree.AnyOf:
        return tree.AnyOf(conditions)

    # ---- meanings

    def meaning_text(self, statements: tuple[m.Statement, ...]) -> tuple[m.Statement, ...]:
        return statements

    def m_nothing(self, _: Token) -> tuple[m.Statement, ...]:
        return ()

    def m_list(self, first: m.Statement, rest: tuple[m.Statement, ...] = ()) -> tuple[m.Statement, ...]:
        return (first, *rest)

    def m_if(self, condition: m.Value, then: Any, otherwise: Any) -> m.If:
        return m.If(condition, then, otherwise or ())

    def m_assigns(self, *statements: m.Statement) -> tuple[m.Statement, ...]:
        return statements

    def m_targets(self, *places: m.Value) -> tuple[m.Value, ...]:
        return places

    def m_assign(self, targets: tuple[m.Value, ...], value: m.Value) -> m.Assign:
        return m.Assign(targets, value)

    def m_choose(self, then: m.Value, condition: m.Value, otherwise: m.Value) -> m.Choose:
        return m.Choose(condition, then, otherwise)

    def m_binary(self, left: m.Value, operator: Token, right: m.Value) -> m.Binary:
        return m.Binary(str(operator), left, right)

    def m_unary(self, operator: Token, value: m.Value) -> m.Unary:
        return m.Unary(str(operator), value)

    def m_number(self, text: Token) -> m.Number:
        return m.Number(number(text))

    def m_name(self, name: Token) -> m.Name:
        return m.Name(str(name), self._at(name))

    def m_call(self, name: Token, *arguments: m.Value) -> m.Call:
        return m.Call(m.Name(str(name), self._at(name)), arguments)

    def m_cell(self, base: m.Value, index: m.Value) -> m.Cell:
        return m.Cell(base, index)

    def m_slice(self, base: m.Value, high: Token, low: Token) -> m.Slice:
        return m.Slice(base, number(high), number(low))

    def m_part(self, base: m.Value, part: Token) -> m.Part:
        return m.Part(base, str(part), self._at(part))
