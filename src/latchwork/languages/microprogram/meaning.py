"""Meanings: the register-transfer statements that say what an instruction does, as a tree.

Statements are carried out in the order they are written: ``acc = acc + n; zero = acc == 0`` compares the new
``acc``. Several targets share out the result, the lowest bits to the first: ``acc, carry = acc + n``.
Widths are those of the nets; numbers and operands are as wide as they need to be. No name is looked up here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from latchwork.base.position import NOWHERE, Position

FUNCTIONS = {
    "signed": "its argument with the highest bit as sign",
    "join": "its arguments side by side, the highest first",
}
PARTS = ("low", "high")


@dataclass(frozen=True)
class Number:
    value: int


@dataclass(frozen=True)
class Name:
    text: str
    position: Position = NOWHERE


@dataclass(frozen=True)
class Cell:
    """``memory[address]``, or one bit of a register where the base is no memory."""

    base: Value
    index: Value


@dataclass(frozen=True)
class Slice:
    base: Value
    high: int
    low: int


@dataclass(frozen=True)
class Part:
    """``pc.low`` or ``pc.high``: the lower or the upper half."""

    base: Value
    part: str
    position: Position = NOWHERE


@dataclass(frozen=True)
class Unary:
    """``operator``: ``-``, ``~`` or ``not``."""

    operator: str
    value: Value


@dataclass(frozen=True)
class Binary:
    """``operator``: ``+ - * << >> & ^ |``, a comparison, ``and``, ``or``."""

    operator: str
    left: Value
    right: Value


@dataclass(frozen=True)
class Choose:
    condition: Value
    then: Value
    otherwise: Value


@dataclass(frozen=True)
class Call:
    function: Name
    arguments: tuple[Value, ...]


Value = Number | Name | Cell | Slice | Part | Unary | Binary | Choose | Call


@dataclass(frozen=True)
class Assign:
    targets: tuple[Value, ...]
    value: Value


@dataclass(frozen=True)
class If:
    condition: Value
    then: tuple[Statement, ...]
    otherwise: tuple[Statement, ...] = ()


Statement = Assign | If
Node = Value | Statement


def parse_meaning(text: str) -> tuple[Statement, ...]:
    """The tree of a meaning, one line or several. Raises LatchworkError where it can't be read."""
    from latchwork.languages.microprogram.parse import meaning_of

    return meaning_of(text)


def nodes(statements: tuple[Statement, ...]) -> Iterator[Node]:
    """Every node of a meaning, outer ones first (without recursion: a line may nest as deep as it is long)."""
    waiting: list[Node] = list(reversed(statements))
    while waiting:
        node = waiting.pop()
        yield node
        waiting.extend(reversed(_inner(node)))


def _inner(node: Node) -> tuple[Node, ...]:
    match node:
        case Number() | Name():
            return ()
        case Cell(base, index):
            return (base, index)
        case Slice(base) | Part(base):
            return (base,)
        case Unary(_, value):
            return (value,)
        case Binary(_, left, right):
            return (left, right)
        case Choose(condition, then, otherwise):
            return (condition, then, otherwise)
        case Call(_, arguments):
            return arguments
        case Assign(targets, value):
            return (*targets, value)
        case If(condition, body, rest):
            return (condition, *body, *rest)
