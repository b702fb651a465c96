"""Expressions: read from text into small trees, which give their value once the names are known."""

from __future__ import annotations

from collections.abc import Callable, Container
from contextlib import suppress
from dataclasses import dataclass
from typing import NoReturn, Protocol

from latchwork.languages.assembly import grammar
from latchwork.languages.assembly.errors import Refusal

_DEEPEST = 50
_LARGEST = 1 << 64


class Scope(Protocol):
    """What an expression may ask of the place where it stands."""

    here: int

    def find(self, name: str, column: int) -> int:
        """The value of a name. Raises Refusal."""

    def defined(self, name: str) -> bool:
        """Whether the name is defined so far."""


class Expression(Protocol):
    def value(self, scope: Scope) -> int:
        """Raises Refusal where there is none."""


@dataclass(slots=True)
class Number:
    number: int

    def value(self, scope: Scope) -> int:
        return self.number


@dataclass(slots=True)
class Name:
    name: str
    column: int

    def value(self, scope: Scope) -> int:
        return scope.find(self.name, self.column)


class Here:
    """The address of the statement."""

    def value(self, scope: Scope) -> int:
        return scope.here


@dataclass(slots=True)
class Defined:
    name: str

    def value(self, scope: Scope) -> int:
        return int(scope.defined(self.name))


@dataclass(slots=True)
class Unary:
    operator: str
    operand: Expression

    def value(self, scope: Scope) -> int:
        return _UNARY[self.operator](self.operand.value(scope))


@dataclass(slots=True)
class Binary:
    operator: str
    left: Expression
    right: Expression
    column: int

    def value(self, scope: Scope) -> int:
        left = self.left.value(scope)
        if self.operator == "&&" and not left:
            return 0
        if self.operator == "||" and left:
            return 1
        result = _BINARY[self.operator](left, self._right(scope))
        if not -_LARGEST < result < _LARGEST:
            self._refuse("the result has more than 64 bits")
        return result

    def _right(self, scope: Scope) -> int:
        right = self.right.value(scope)
        if right == 0 and self.operator in ("/", "%"):
            self._refuse("division by zero")
        if self.operator in ("<<", ">>") and not 0 <= right <= 64:
            self._refuse(f"a shift by {right}; 0 to 64 is possible")
        return right

    def _refuse(self, message: str) -> NoReturn:
        raise Refusal("A114", message, self.column)


def _quotient(a: int, b: int) -> int:
    """Rounded towards zero, as in C."""
    return abs(a) // abs(b) * (1 if (a < 0) == (b < 0) else -1)


_UNARY: dict[str, Callable[[int], int]] = {
    "-": lambda a: -a,
    "+": lambda a: a,
    "~": lambda a: ~a,
    "!": lambda a: int(not a),
    "<": lambda a: a & 0xFF,
    ">": lambda a: a >> 8 & 0xFF,
}
_BINARY: dict[str, Callable[[int, int], int]] = {
    "||": lambda a, b: int(bool(a or b)),
    "&&": lambda a, b: int(bool(a and b)),
    "|": lambda a, b: a | b,
    "^": lambda a, b: a ^ b,
    "&": lambda a, b: a & b,
    "==": lambda a, b: int(a == b),
    "!=": lambda a, b: int(a != b),
    "<": lambda a, b: int(a < b),
    "<=": lambda a, b: int(a <= b),
    ">": lambda a, b: int(a > b),
    ">=": lambda a, b: int(a >= b),
    "<<": lambda a, b: a << b,
    ">>": lambda a, b: a >> b,
    "+": lambda a, b: a + b,
    "-": lambda a, b: a - b,
    "*": lambda a, b: a * b,
    "/": _quotient,
    "%": lambda a, b: a - b * _quotient(a, b),
}
_FUNCTIONS = {"low": "<", "high": ">"}


def read(text: str, start: int, column: int, reserved: Container[str]) -> tuple[Expression, int]:
    """The expression that begins at ``text[start]``, and where it ends.

    ``column``: that of ``text[0]`` in its line. ``reserved``: words (in small letters) that are no names. Raises
    Refusal. An operator without a value behind it does not belong to the expression.
    """
    found = grammar.simple.match(text, start)
    if found:
        if found["number"]:
            return Number(_bounded(int(found["number"]), column + start)), found.end()
        if found["hex"]:
            return Number(_bounded(int(found["hex"], 16), column + start)), found.end()
        name = found["name"]
        if name != grammar.HERE and name.lower() not in reserved:
            return Name(name, column + found.start("name")), found.end()
    reader = _Reader(text, start, column, reserved)
    return reader.expression(0, 0), reader.at


def whole(text: str, column: int, reserved: Container[str]) -> Expression:
    """The expression that is the whole text. Raises Refusal."""
    result, end = read(text, 0, column, reserved)
    left = grammar.gap.match(text, end)
    end = left.end() if left else end
    if end < len(text):
        operator = grammar.operator.match(text, end)
        if operator:
            raise unexpected(text, operator.end() + _blanks(text, operator.end()), column, "a value")
        raise unexpected(text, end, column, "an operator or the end of the expression")
    return result


def unexpected(text: str, at: int, column: int, expected: str) -> Refusal:
    """What to say where something else should stand."""
    found = grammar.word.match(text, at)
    shown = f"`{found[0]}`" if found else "the end of the line"
    shown = "the end of the argument" if found and found[0] in (grammar.OPEN, grammar.CLOSE) else shown
    return Refusal("A110", f"found {shown} where {expected} should stand", column + at)


def _blanks(text: str, at: int) -> int:
    return len(text) - at - len(text[at:].lstrip())


def _bounded(number: int, column: int) -> int:
    if number >= _LARGEST:
        raise Refusal("A114", "the number has more than 64 bits", column)
    return number


class _Reader:
    """Reads by rising precedence from a position in the text."""

    def __init__(self, text: str, at: int, column: int, reserved: Container[str]) -> None:
        self.text = text
        self.at = at
        self.column = column
        self.reserved = reserved

    def expression(self, least: int, depth: int) -> Expression:
        left = self.value(depth)
        while True:
            found = grammar.operator.match(self.text, self.at)
            strength = grammar.PRECEDENCE[found[1]] if found else -1
            if not found or strength <= least:
                return left
            before, self.at = self.at, found.end()
            if not grammar.value.match(self.text, self.at):
                self.at = before
                return left
            right = self.expression(strength, depth + 1)
            left = self._joined(found[1], left, right, self.column + found.start(1))

    def _joined(self, operator: str, left: Expression, right: Expression, column: int) -> Expression:
        node = Binary(operator, left, right, column)
        if isinstance(left, Number) and isinstance(right, Number):
            with suppress(Refusal):  # it may stand where it is never asked for its value
                return Number(node.value(_NOWHERE))
        return node

    def value(self, depth: int) -> Expression:
        found = grammar.value.match(self.text, self.at)
        if not found:
            self.at += _blanks(self.text, self.at)
            if self.text[self.at : self.at + 1] == "'":
                help = 'one character in single quotes is a number; several stand in "double quotes"'
                raise Refusal("A105", "these quotes hold no character", self.column + self.at, help)
            raise unexpected(self.text, self.at, self.column, "a value")
        column = self.column + found.start(found.lastgroup or 0)
        if depth > _DEEPEST:
            raise Refusal("A104", f"the expression is nested more than {_DEEPEST} deep", column)
        start, self.at = self.at, found.end()
        if found["name"]:
            return self._name(found["name"], column, start, depth)
        if found["number"]:
            return Number(self._number(found["number"], found["junk"], self.column + found.start("number")))
        if found["character"]:
            return Number(_character(found["character"], column))
        if found["open"]:
            return self._group(found["open"], depth)
        return Unary(found["unary"], self.value(depth + 1))

    def _name(self, name: str, column: int, start: int, depth: int) -> Expression:
        if name in grammar.FUNCTIONS and self.text[self.at : self.at + 1] == "(":
            self.at += 1
            return self._function(name, depth)
        if name.lower() in self.reserved:
            self.at = start
            raise Refusal("A110", f"found `{name}`, a word of the machine, where a value should stand", column)
        return Here() if name == grammar.HERE else Name(name, column)

    def _function(self, name: str, depth: int) -> Expression:
        if name != "defined":
            return Unary(_FUNCTIONS[name], self._group("(", depth))
        found = grammar.name.match(self.text, self.at)
        if not found:
            raise unexpected(self.text, self.at, self.column, "a name")
        self.at = found.end()
        self._close(")")
        return Defined(found[0])

    def _group(self, mark: str, depth: int) -> Expression:
        inner = self.expression(0, depth + 1)
        self._close(")" if mark == "(" else grammar.CLOSE)
        return inner

    def _close(self, mark: str) -> None:
        while self.text[self.at : self.at + 1] in (" ", "\t"):
            self.at += 1
        if self.text[self.at : self.at + 1] != mark:
            raise unexpected(self.text, self.at, self.column, "`)`" if mark == ")" else "an operator")
        self.at += 1

    def _number(self, text: str, junk: str, column: int) -> int:
        try:
            if junk:
                raise ValueError
            return _bounded(_number_of(text.replace("_", "").lower()), column)
        except ValueError:
            help = "numbers are written 10, $ff, 0xff, %1010 or 0b1010"
            raise Refusal("A110", f"`{text}{junk}` is no number", column, help) from None


def _number_of(text: str) -> int:
    for start, base in (("0x", 16), ("$", 16), ("0b", 2), ("%", 2)):
        if text.startswith(start):
            return int(text[len(start) :], base)
    return int(text)


def _character(text: str, column: int) -> int:
    codes = characters(text[1:-1], column + 1)
    if len(codes) != 1:
        raise Refusal("A105", f"{text} is not one character", column, 'several stand in "double quotes"')
    return codes[0]


def characters(text: str, column: int) -> list[int]:
    """The codes of characters, with escapes. Raises Refusal."""
    if "\\" not in text and text.isascii():
        return list(text.encode())
    codes = []
    for found in grammar.escape.finditer(text):
        hex_digits, letter, plain = found.groups()
        if plain and not plain.isascii():
            code = ord(plain)
            help = f"write the byte that your display shows so: `\\x{code:02x}`" if code < 256 else ""
            raise Refusal("A105", f"`{plain}` is no ASCII character", column + found.start(), help)
        if letter and letter not in grammar.ESCAPES:
            help = r"there are \n \r \t \0 \e \\ \" \' and \x41"
            raise Refusal("A105", f"`\\{letter}` stands for no character", column + found.start(), help)
        codes.append(int(hex_digits, 16) if hex_digits else grammar.ESCAPES[letter] if letter else ord(plain))
    return codes


class _Nowhere:
    """Where constants are folded: nothing is asked of it."""

    here = 0

    def find(self, name: str, column: int) -> int:
        raise Refusal("A111", f"nothing defines `{name}`", column)

    def defined(self, name: str) -> bool:
        return False


_NOWHERE = _Nowhere()
