"""Random expressions, each beside a plain Python function that was put together from the same choices.

The functions use nothing of the evaluator; the meaning of the operations is that of the table in
``latchwork.logic.expression``, which is common knowledge of unsigned arithmetic modulo a power of two.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from hypothesis import strategies as st

from latchwork.logic import Expression, Operation, case, concat, constant, mux, parity, read, variable
from latchwork.logic.expression import make

Levels = dict[str, int]
Meaning = Callable[[Levels], int]

WIDTHS = {"a": 1, "b": 3, "c": 8, "d": 8, "e": 16}
MEMORY = {address: (address * 37 + 11) % 256 for address in range(8)}  # 8 words of 8 bits, address 3 bits wide


@dataclass(frozen=True)
class Twice:
    """An expression and what it means."""

    expression: Expression
    meaning: Meaning

    @property
    def width(self) -> int:
        return self.expression.width


@st.composite
def expressions(draw: st.DrawFn, width: int | None = None, depth: int = 4) -> Twice:
    """Expressions of all operations; of one width where that is given."""
    width = width or draw(st.integers(1, 12))
    if depth == 0 or draw(st.integers(0, 5)) == 0:
        return draw(leaves(width))
    return draw(st.sampled_from(INNER if width == 1 else WIDE))(draw, width, depth - 1)


@st.composite
def leaves(draw: st.DrawFn, width: int) -> Twice:
    """A constant, or as many bits of a variable, filled up with zeros where it has too few."""
    name = draw(st.sampled_from([None, *WIDTHS]))
    if name is None:
        value = draw(st.integers(0, 2**width - 1))
        return Twice(constant(value, width), lambda levels: value)
    whole = variable(name, WIDTHS[name])
    if whole.width < width:
        padded = concat(whole, constant(0, width - whole.width))
        return Twice(padded, lambda levels: levels[name])
    low = draw(st.integers(0, whole.width - width))
    return Twice(whole[low : low + width], lambda levels: levels[name] >> low & 2**width - 1)


def _not(draw: st.DrawFn, width: int, depth: int) -> Twice:
    a = draw(expressions(width, depth))
    return Twice(~a.expression, lambda levels: 2**width - 1 - a.meaning(levels))


def _many(draw: st.DrawFn, width: int, depth: int) -> Twice:
    """AND, OR, XOR and ADD of two to four arguments."""
    operation = draw(st.sampled_from([Operation.AND, Operation.OR, Operation.XOR, Operation.ADD]))
    parts = [draw(expressions(width, depth)) for _ in range(draw(st.integers(2, 4)))]

    def meaning(levels: Levels) -> int:
        values = [part.meaning(levels) for part in parts]
        if operation is Operation.ADD:
            return sum(values) % 2**width
        columns = [[value >> place & 1 for value in values] for place in range(width)]
        single = {Operation.AND: all, Operation.OR: any, Operation.XOR: lambda bits: sum(bits) % 2}[operation]
        return sum(int(single(bits)) << place for place, bits in enumerate(columns))

    return Twice(make(operation, width, *(part.expression for part in parts)), meaning)


def _difference(draw: st.DrawFn, width: int, depth: int) -> Twice:
    a, b = draw(expressions(width, depth)), draw(expressions(width, depth))
    return Twice(a.expression - b.expression, lambda levels: (a.meaning(levels) - b.meaning(levels)) % 2**width)


def _mux(draw: st.DrawFn, width: int, depth: int) -> Twice:
    select, yes, no = draw(expressions(1, depth)), draw(expressions(width, depth)), draw(expressions(width, depth))
    return Twice(
        mux(select.expression, yes.expression, no.expression),
        lambda levels: yes.meaning(levels) if select.meaning(levels) == 1 else no.meaning(levels),
    )


def _concat(draw: st.DrawFn, width: int, depth: int) -> Twice:
    low = draw(st.integers(1, width - 1))
    a, b = draw(expressions(low, depth)), draw(expressions(width - low, depth))
    return Twice(concat(a.expression, b.expression), lambda levels: a.meaning(levels) + 2**low * b.meaning(levels))


def _slice(draw: st.DrawFn, width: int, depth: int) -> Twice:
    below, above = draw(st.integers(0, 4)), draw(st.integers(0, 4))
    whole = draw(expressions(below + width + above, depth))
    return Twice(whole.expression[below : below + width], lambda levels: whole.meaning(levels) // 2**below % 2**width)


def _replicate(draw: st.DrawFn, width: int, depth: int) -> Twice:
    bit = draw(expressions(1, depth))
    return Twice(bit.expression.repeat(width), lambda levels: bit.meaning(levels) * (2**width - 1))


def _case(draw: st.DrawFn, width: int, depth: int) -> Twice:
    select = draw(expressions(draw(st.integers(1, 3)), depth))
    keys = draw(st.lists(st.integers(0, 2**select.width - 1), unique=True, min_size=1, max_size=4))
    values = {key: draw(expressions(width, depth)) for key in keys}
    otherwise = draw(expressions(width, depth))
    return Twice(
        case(select.expression, {key: value.expression for key, value in values.items()}, otherwise.expression),
        lambda levels: values.get(select.meaning(levels), otherwise).meaning(levels),
    )


def _read(draw: st.DrawFn, width: int, depth: int) -> Twice:
    address = draw(expressions(3, depth))
    word = read("words", address.expression, 8)
    whole = word if width == 8 else word[0:width] if width < 8 else concat(word, constant(0, width - 8))
    return Twice(whole, lambda levels: MEMORY[address.meaning(levels)] % 2**width)


def _compare(draw: st.DrawFn, width: int, depth: int) -> Twice:
    wide = draw(st.integers(1, 8))
    a, b = draw(expressions(wide, depth)), draw(expressions(wide, depth))
    if draw(st.booleans()):
        return Twice(a.expression.equals(b.expression), lambda levels: int(a.meaning(levels) == b.meaning(levels)))
    return Twice(a.expression.less_than(b.expression), lambda levels: int(a.meaning(levels) < b.meaning(levels)))


def _parity(draw: st.DrawFn, width: int, depth: int) -> Twice:
    a = draw(expressions(draw(st.integers(1, 8)), depth))
    return Twice(parity(a.expression), lambda levels: bin(a.meaning(levels)).count("1") % 2)


BOTH = [_not, _many, _difference, _mux, _slice, _case, _read]
INNER = [*BOTH, _compare, _parity]
WIDE = [*BOTH, _concat, _replicate]


def levels() -> st.SearchStrategy[Levels]:
    """A value for each variable."""
    return st.fixed_dictionaries({name: st.integers(0, 2**width - 1) for name, width in WIDTHS.items()})
