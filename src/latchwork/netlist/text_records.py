"""Frozen dataclasses as lines of the text form, by their fields: nothing can be forgotten.

Fields with their default value are left out. A field that holds one record, or a row of them, becomes the lines
below, each under the record's own keyword.
"""

from __future__ import annotations

import re
import types
from collections.abc import Iterator
from dataclasses import MISSING, Field, fields, is_dataclass
from difflib import get_close_matches
from enum import Enum
from typing import Any, Union, get_args, get_origin, get_type_hints

from latchwork.base.position import Position
from latchwork.logic import Expression
from latchwork.logic.text import parsed, written
from latchwork.netlist.text_words import Bare, Line, Word, quoted, refused

# The text form is decoded by the types of the fields, which are only known at run time: hence Any.
_WHOLE = re.compile(r"-?[0-9]{1,30}")
_NUMBER = re.compile(r"-?[0-9]{1,30}(\.[0-9]{1,30})?(e[-+]?[0-9]{1,3})?")
_WIDE = re.compile(r"[/ ][0-9]{5,}")  # no chip has an expression of 10,000 bits


def keyword_of(record: type[Any]) -> str:
    return record.__name__.lower()


def lines_from(record: Any, depth: int = 0) -> Iterator[str]:
    """The line of a record, and those below it."""
    shape = _shape(type(record))
    given = [(name, getattr(record, name)) for name in shape.plain]
    words = [f"{name}={_value(value)}" for name, value in given if not _is_default(shape.fields[name], value)]
    yield "  " * depth + " ".join([keyword_of(type(record)), *words])
    for name, _ in shape.below.values():
        value = getattr(record, name)
        for each in value if isinstance(value, tuple) else (value,):
            yield from lines_from(each, depth + 1)


def record_from(record: type[Any], line: Line) -> Any:
    """The record that a line and those below it describe. Raises LatchworkError."""
    shape = _shape(record)
    values: dict[str, Any] = {}
    for name, word in line.fields.items():
        if name not in shape.plain:
            hint = _did_you_mean(name, shape.plain)
            raise refused("M212", f'{line.keyword} has no field "{name}"', line.position, hint)
        values[name] = _decoded(word, shape.types[name], f"{line.keyword} {name}", line.position)
    rows: dict[str, list[Any]] = {name: [] for name, _ in shape.below.values()}
    for below in line.below:
        if below.keyword not in shape.below:
            hint = _did_you_mean(below.keyword, shape.below)
            raise refused("M211", f'"{below.keyword}" does not stand below {line.keyword}', below.position, hint)
        name, kind = shape.below[below.keyword]
        rows[name].append(record_from(kind, below))
    for name, found in rows.items():
        values[name] = _row(found, shape.types[name], f"{line.keyword} {name}", line.position)
    _refuse_missing(shape, values, line)
    return record(**values)


def _did_you_mean(name: str, known: Any) -> str:
    near = get_close_matches(name, known, n=1)
    return f'did you mean "{near[0]}"?' if near else ""


class _Shape:
    """What the fields of a record are: ``plain`` ones on its line, records ``below`` by keyword."""

    def __init__(self, record: type[Any]) -> None:
        self.fields: dict[str, Field[Any]] = {each.name: each for each in fields(record)}
        self.types: dict[str, Any] = get_type_hints(record)
        self.below: dict[str, tuple[str, type[Any]]] = {}
        for name in self.fields:
            kind = _record_type(self.types[name])
            if kind:
                self.below[keyword_of(kind)] = (name, kind)
        in_rows = {name for name, _ in self.below.values()}
        self.plain = [name for name in self.fields if name not in in_rows]


_shapes: dict[type[Any], _Shape] = {}


def _shape(record: type[Any]) -> _Shape:
    if record not in _shapes:
        _shapes[record] = _Shape(record)
    return _shapes[record]


def _record_type(kind: Any) -> type[Any] | None:
    """The record that a field holds, one or a row; a position stays on the line."""
    inner = get_args(kind)[0] if get_origin(kind) is tuple else kind
    return inner if isinstance(inner, type) and is_dataclass(inner) and inner is not Position else None


def _is_default(field: Field[Any], value: Any) -> bool:
    return field.default is not MISSING and type(field.default) is type(value) and bool(field.default == value)


def _value(value: Any) -> str:
    match value:
        case Position():
            return _value((value.file, value.line, value.column))
        case Expression():
            return written(value)
        case Enum():
            return str(value.value)
        case bool():
            return "true" if value else "false"
        case str():
            return quoted(value)
        case tuple():
            return f"[{' '.join(_value(each) for each in value)}]"
        case None:
            return "none"
        case _:
            return repr(value)


def _refuse_missing(shape: _Shape, values: dict[str, Any], line: Line) -> None:
    for name, field in shape.fields.items():
        if name not in values and field.default is MISSING:
            raise refused("M212", f'{line.keyword} lacks its field "{name}"', line.position)


def _row(found: list[Any], kind: Any, what: str, position: Position) -> Any:
    if get_origin(kind) is tuple:
        return tuple(found)
    if len(found) != 1:
        raise refused("M212", f"{what} stands below once, not {len(found)} times", position)
    return found[0]


def _decoded(word: Word, kind: Any, what: str, position: Position) -> Any:
    """The value of a field of a type."""
    try:
        return _of_type(word, kind)
    except ValueError as error:
        raise refused("M212", f"{what}: {error}", position) from None


def _of_type(word: Word, kind: Any) -> Any:
    origin, arguments = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        return _of_some_type(word, arguments)
    if origin is tuple:
        return _of_tuple(word, arguments)
    if kind is Position:
        return Position(*_of_tuple(word, (str, int, int)))
    if kind is str:
        return _checked(word, str, "a text in quotes")
    return _of_bare(_checked(word, Bare, "a word without quotes").text, kind)


def _of_bare(text: str, kind: Any) -> Any:
    if kind is Expression:
        if _WIDE.search(text):
            raise ValueError("an expression is too wide")
        return parsed(text)
    if kind is bool and text in ("true", "false"):
        return text == "true"
    if kind is int and _WHOLE.fullmatch(text):
        return int(text)
    if kind is float and _NUMBER.fullmatch(text):
        return int(text) if _WHOLE.fullmatch(text) else float(text)
    if kind is types.NoneType and text == "none":
        return None
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind(text)
    raise ValueError(f'"{text[:40]}" is no {kind.__name__}')


def _of_some_type(word: Word, kinds: tuple[Any, ...]) -> Any:
    if isinstance(word, Bare) and word.text == "none" and types.NoneType in kinds:
        return None
    wanted = [kind for kind in kinds if kind is not types.NoneType]
    if len(wanted) > 1:
        wanted = [str if isinstance(word, str) else next(kind for kind in wanted if kind is not str)]
    return _of_type(word, wanted[0])


def _of_tuple(word: Word, kinds: tuple[Any, ...]) -> tuple[Any, ...]:
    words = _checked(word, list, "a list")
    if len(kinds) == 2 and kinds[1] is ...:
        return tuple(_of_type(each, kinds[0]) for each in words)
    if len(words) != len(kinds):
        raise ValueError(f"a list of {len(kinds)} is expected, not of {len(words)}")
    return tuple(_of_type(each, kind) for each, kind in zip(words, kinds, strict=True))


def _checked(word: Word, kind: type[Any], what: str) -> Any:
    if not isinstance(word, kind):
        raise ValueError(f"{what} is expected")
    return word
