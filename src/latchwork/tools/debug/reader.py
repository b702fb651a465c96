"""Conditions, as a person writes them: ``carry and not irq_n``, ``acc >= 0x80``, ``ram[16] = 5 or pc == start.next``.

A word is the name of a net, bus, register, port or control line, a label of the program, or a number (``12``,
``0x1F``, ``0b101``). ``ram[16]`` is a cell of an address space; its address may be a condition of its own. Two values
may be added, subtracted and compared; ``not``, ``and``, ``or`` join what is compared, from strong to weak. A value
that is not known makes what depends on it unknown, and what is unknown does not hold.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from operator import eq, ge, gt, le, lt, ne
from typing import NamedTuple

from latchwork.engines.looks import Conditions, Looks
from latchwork.netlist import NetId
from latchwork.problems import LatchworkError, Problem
from latchwork.tools.debug.machine import Machine

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


@dataclass(frozen=True)
class Value:
    """Calling it gives what something is worth now, None where that is not known.

    ``nets``: all that it hangs on; ``cells``, worked out when asked for: conditions at the pins of memories of which
    one holds where a cell that it hangs on is written, None where there is no saying. ``name``: the nets that it is,
    ``number``: the number that it is, and nothing else. ``holding``: conditions of which one holds where it is not 0;
    None where there is no saying."""

    find: Callable[[], int | None]
    nets: frozenset[NetId] = frozenset()
    cells: tuple[Callable[[], Conditions | None], ...] = ()
    name: tuple[NetId, ...] = ()
    number: int | None = None
    holding: Conditions | None = None

    def __call__(self) -> int | None:
        return self.find()

    @cached_property
    def changes(self) -> Looks | None:
        """What comes with every change of it."""
        cells = [find() for find in self.cells]
        known = [each for each in cells if each is not None]
        return Looks(tuple(sorted(self.nets)), _all_of(known)) if len(known) == len(cells) else None


def _from(find: Callable[[], int | None], *parts: Value, holding: Conditions | None = None) -> Value:
    """A value that is worked out from others."""
    cells = tuple(cell for part in parts for cell in part.cells)
    return Value(find, frozenset().union(*(part.nets for part in parts)), cells, holding=holding)


def _all_of(several: Iterable[Conditions]) -> Conditions:
    return tuple(dict.fromkeys(each for conditions in several for each in conditions))


class Condition(NamedTuple):
    """It holds where ``value`` is known and not 0."""

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
        if len(parts) == 1:
            return parts[0]
        known = [part.holding for part in parts if part.holding is not None]
        holding = _all_of(known) if len(known) == len(parts) else None
        return _from(lambda: _joined(parts, 1), *parts, holding=holding)

    def all_of(self) -> Value:
        parts = [self.inverted()]
        while self.took("and"):
            parts.append(self.inverted())
        if len(parts) == 1:
            return parts[0]
        holding = next((part.holding for part in parts if part.holding is not None), None)
        return _from(lambda: _joined(parts, 0), *parts, holding=holding)

    def inverted(self) -> Value:
        turns = 0
        while self.took("not"):
            turns += 1
        value = self.compared()
        if not turns:
            return value
        holding: Conditions | None = ((value.name, 0),) if value.name and turns % 2 else None
        return _from(
            lambda: None if (found := value()) is None else int(bool(found) == (turns % 2 == 0)), value, holding=holding
        )

    def compared(self) -> Value:
        left = self.sum()
        sign = self.took(*_COMPARE)
        if not sign:
            return left
        right, compare = self.sum(), _COMPARE[sign]

        def value() -> int | None:
            a, b = left(), right()
            return None if a is None or b is None else int(compare(a, b))

        return _from(value, left, right, holding=_same(left, right) if compare is eq else None)

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
            return Value(lambda: number, number=number)
        if token.kind == "word" and token.text not in ("and", "or", "not"):
            self.at += 1
            return self.named(token)
        raise self.wrong(f"a name or a number is expected, not {self.found}")

    def named(self, token: Token) -> Value:
        if self.now.text == "[":
            return self.element(token)
        address = None if _is_net(self.machine, token.text) else label_address(self.machine, token.text)
        if address is not None:
            return Value(lambda: address, number=address)
        nets = self.machine.nets(token.text)
        return _read(self.machine, nets)

    def element(self, token: Token) -> Value:
        """A net of a bus, or a cell of a memory."""
        self.needs("[")
        start = self.now
        index = self.any_of()
        self.needs("]")
        name = f"{token.text}[{start.text}]"
        if start.kind == "number" and _is_net(self.machine, name):
            nets = self.machine.nets(name)
            return _read(self.machine, nets)
        memory = self.machine.memory[token.text]
        return Value(
            lambda: _cell(memory, index()), index.nets, (*index.cells, lambda: self._at_pins(token.text, index.number))
        )

    def _at_pins(self, space: str, address: int | None) -> Conditions | None:
        return None if address is None else self.machine.accesses(space).at_pins(address)


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

    return _from(value, left, right)


def _read(machine: Machine, nets: tuple[NetId, ...]) -> Value:
    """What nets carry, as a number."""
    holding = ((nets, 1),) if len(nets) == 1 else None
    return Value(lambda: machine.simulation.read(nets), frozenset(nets), name=nets, holding=holding)


def _same(left: Value, right: Value) -> Conditions | None:
    """Nets that carry a number."""
    for named, other in ((left, right), (right, left)):
        if named.name and other.number is not None:
            return ((named.name, other.number),) if 0 <= other.number < 1 << len(named.name) else ()
    return None


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
