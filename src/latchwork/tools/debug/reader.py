"""Conditions, as a person writes them: ``carry and not irq_n``, ``acc >= 0x80``, ``ram[16] = 5 or pc == start.next``.

A word is the name of a net, bus, register, port or control line, a label of the program, or a number (``12``,
``0x1F``, ``0b101``). ``ram[16]`` is a cell of an address space; its address may be a condition of its own. Two values
may be added, subtracted and compared; ``not``, ``and``, ``or`` join what is compared, from strong to weak. A value
that is not known makes what depends on it unknown, and what is unknown does not hold.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from operator import eq, ge, gt, le, lt, ne
from typing import NamedTuple

from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug.machine import Machine

Value = Callable[[], int | None]

_TOKEN = re.compile(
    r"\s*(?:(?P<number>0[xX][0-9a-fA-F]+|0[bB][01]+|\d+)(?![\w])|(?P<word>\.?[A-Za-z_][\w.]*)"
    r"|(?P<sign><=|>=|==|!=|[=<>()\[\]+-]))"
)
_COMPARE = {"=": eq, "==": eq, "!=": ne, "<": lt, "<=": le, ">": gt, ">=": ge}
DEEPEST = 50


class Token(NamedTuple):
    kind: str
    text: str
    column: int


class Condition(NamedTuple):
    """``value`` gives what it is worth now, None where that is not known; it holds where that is not 0."""

    text: str
    value: Value

    def holds(self) -> bool:
        return bool(self.value())


def condition(machine: Machine, text: str) -> Condition:
    """Raises LatchworkError (R501, R101) with the column of what can't be read."""
    return Condition(" ".join(text.split()), _Reader(machine, text).whole())


def tokens(text: str) -> Iterator[Token]:
    at = 0
    while text[at:].strip():
        found = _TOKEN.match(text, at)
        if not found:
            start = at + len(text[at:]) - len(text[at:].lstrip())
            raise _unreadable(text, start + 1, f'"{text[start:].split(maxsplit=1)[0]}" has no meaning here')
        kind = str(found.lastgroup)
        yield Token(kind, found[kind], found.start(kind) + 1)
        at = found.end()
    yield Token("end", "", len(text) + 1)


def _unreadable(text: str, column: int, why: str) -> LatchworkError:
    hint = 'such as "carry and not irq_n", "acc >= 0x80" or "ram[16] = 5"'
    return LatchworkError(Problem("R501", f'"{text.strip()}" is no condition, column {column}: {why}', help=hint))


class _Reader:
    """From weak to strong: or, and, not, comparison, sum, single value."""

    def __init__(self, machine: Machine, text: str) -> None:
        self.machine = machine
        self.text = text
        self.tokens = list(tokens(text))
        self.at = 0
        self.depth = 0

    def whole(self) -> Value:
        value = self.any_of()
        if self.now.kind != "end":
            raise self.wrong(f'"{self.now.text}" is too much')
        return value

    @property
    def now(self) -> Token:
        return self.tokens[self.at]

    def wrong(self, why: str) -> LatchworkError:
        return _unreadable(self.text, self.now.column, why)

    def took(self, *texts: str) -> str:
        """The token's text where it is one of these, which is then passed."""
        text = self.now.text
        if text not in texts or self.now.kind == "end":
            return ""
        self.at += 1
        return text

    def needs(self, text: str) -> None:
        if not self.took(text):
            raise self.wrong(f'"{text}" is expected, not {self.found}')

    @property
    def found(self) -> str:
        return f'"{self.now.text}"' if self.now.text else "the end"

    def any_of(self) -> Value:
        self.depth += 1
        if self.depth > DEEPEST:
            raise self.wrong("it is too deep")
        parts = [self.all_of()]
        while self.took("or"):
            parts.append(self.all_of())
        self.depth -= 1
        return parts[0] if len(parts) == 1 else lambda: _joined(parts, 1)

    def all_of(self) -> Value:
        parts = [self.inverted()]
        while self.took("and"):
            parts.append(self.inverted())
        return parts[0] if len(parts) == 1 else lambda: _joined(parts, 0)

    def inverted(self) -> Value:
        turns = 0
        while self.took("not"):
            turns += 1
        value = self.compared()
        if not turns:
            return value
        return lambda: None if (found := value()) is None else int(bool(found) == (turns % 2 == 0))

    def compared(self) -> Value:
        left = self.sum()
        sign = self.took(*_COMPARE)
        if not sign:
            return left
        right, compare = self.sum(), _COMPARE[sign]

        def value() -> int | None:
            a, b = left(), right()
            return None if a is None or b is None else int(compare(a, b))

        return value

    def sum(self) -> Value:
        value = self.single()
        while sign := self.took("+", "-"):
            value = _added(value, self.single(), 1 if sign == "+" else -1)
        return value

    def single(self) -> Value:
        token = self.now
        if self.took("("):
            value = self.any_of()
            self.needs(")")
            return value
        if token.kind == "number":
            self.at += 1
            number = int(token.text, 0) if not token.text.isdecimal() else int(token.text)
            return lambda: number
        if token.kind == "word" and token.text not in ("and", "or", "not"):
            self.at += 1
            return self.named(token)
        raise self.wrong(f"a name or a number is expected, not {self.found}")

    def named(self, token: Token) -> Value:
        if self.now.text == "[":
            return self.element(token)
        address = None if _is_net(self.machine, token.text) else label_address(self.machine, token.text)
        if address is not None:
            return lambda: address
        nets = self.machine.nets(token.text)
        simulation = self.machine.simulation
        return lambda: simulation.read(nets)

    def element(self, token: Token) -> Value:
        """A net of a bus, or a cell of a memory."""
        self.needs("[")
        start = self.now
        index = self.any_of()
        self.needs("]")
        name = f"{token.text}[{start.text}]"
        if start.kind == "number" and _is_net(self.machine, name):
            nets = self.machine.nets(name)
            return lambda: self.machine.simulation.read(nets)
        memory = self.machine.memory[token.text]
        return lambda: _cell(memory, index())


def label_address(machine: Machine, label: str) -> int | None:
    """The address of a label, None where there is none; a local one may stand alone, ``.next``, where there is only
    one of it. Raises LatchworkError R504 where there are several."""
    if label in machine.labels:
        return machine.labels[label][1]
    found = [name for name in machine.labels if label.startswith(".") and name.endswith(label)]
    if len(found) > 1:
        message = f'the program has "{label}" {len(found)} times'
        raise LatchworkError(Problem("R504", message, help=f"write {' or '.join(found)}"))
    return machine.labels[found[0]][1] if found else None


def _is_net(machine: Machine, name: str) -> bool:
    try:
        machine.nets(name)
    except LatchworkError:
        return False
    return True


def _cell(memory: object, address: int | None) -> int | None:
    if address is None or not 0 <= address < len(memory):  # type: ignore[arg-type]
        return None
    found: int = memory[address]  # type: ignore[index]
    return None if found < 0 else found


def _added(left: Value, right: Value, factor: int) -> Value:
    def value() -> int | None:
        a, b = left(), right()
        return None if a is None or b is None else a + factor * b

    return value


def _joined(parts: list[Value], decides: int) -> int | None:
    """``or`` where 1 decides, ``and`` where 0 does; what is unknown leaves it unknown unless another part decides."""
    known = True
    for part in parts:
        value = part()
        if value is None:
            known = False
        elif bool(value) == bool(decides):
            return decides
    return 1 - decides if known else None
