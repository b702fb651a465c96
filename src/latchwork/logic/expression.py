"""Bit-vector expressions over a small closed set of operations.

Expressions are values: equal ones are the same object, so they can be compared and hashed by identity and
shared nodes are evaluated once. All arithmetic is unsigned, modulo two to the width. Widths are checked when
an expression is made; a mismatch is a mistake of the person who writes a part and raises ValueError.

Operations, with their arguments (w: width of the result):

========== ============================== ================ =======================================
operation  arguments                      data             meaning
========== ============================== ================ =======================================
CONSTANT                                  value            w bits of value
VARIABLE                                  name             a port of the part or a state of it
NOT        a(w)                                            each bit inverted
AND OR XOR a(w), b(w), ...                                 bit by bit, two arguments or more
ADD        a(w), b(w), ...                                 sum modulo 2**w, two arguments or more
MUX        select(1), yes(w), no(w)                        yes where select is 1
CONCAT     a, b, ...                                       first argument is the lowest bits
SLICE      a                              low              bits low .. low+w-1 of a
REPLICATE  a(1)                                            the bit w times
EQUAL      a, b                                            w = 1
LESS       a, b                                            w = 1, unsigned
CASE       select, value..., otherwise    keys             the value whose key equals select
READ       address                        memory name      the memory's word at address
========== ============================== ================ =======================================
"""

from __future__ import annotations

from enum import Enum
from typing import Final, final


class Operation(Enum):
    CONSTANT = "const"
    VARIABLE = "var"
    NOT = "not"
    AND = "and"
    OR = "or"
    XOR = "xor"
    ADD = "add"
    MUX = "mux"
    CONCAT = "concat"
    SLICE = "slice"
    REPLICATE = "replicate"
    EQUAL = "equal"
    LESS = "less"
    CASE = "case"
    READ = "read"


Data = int | str | tuple[int, ...] | None


@final
class Expression:
    """One node. Make them with the functions and operators of this module, never directly."""

    __slots__ = ("args", "data", "operation", "width")
    operation: Final[Operation]
    width: Final[int]
    args: Final[tuple[Expression, ...]]
    data: Final[Data]

    def __init__(self, operation: Operation, width: int, args: tuple[Expression, ...], data: Data) -> None:
        self.operation = operation
        self.width = width
        self.args = args
        self.data = data

    def __invert__(self) -> Expression:
        return make(Operation.NOT, self.width, self)

    def __and__(self, other: Expression) -> Expression:
        return _bitwise(Operation.AND, self, other)

    def __or__(self, other: Expression) -> Expression:
        return _bitwise(Operation.OR, self, other)

    def __xor__(self, other: Expression) -> Expression:
        return _bitwise(Operation.XOR, self, other)

    def __add__(self, other: Expression | int) -> Expression:
        return _bitwise(Operation.ADD, self, _lift(other, self.width))

    def __sub__(self, other: Expression | int) -> Expression:
        """Two's complement difference modulo 2**width."""
        return make(Operation.ADD, self.width, self, ~_lift(other, self.width), constant(1, self.width))

    def __getitem__(self, index: int | slice) -> Expression:
        """Bit ``[i]`` or bits ``[low:high]`` with the high end excluded, lowest bit 0."""
        low, high = (index, index + 1) if isinstance(index, int) else (index.start or 0, index.stop or self.width)
        if not 0 <= low < high <= self.width:
            raise ValueError(f"bits {low}..{high - 1} lie outside of a width of {self.width}")
        if high - low == self.width:
            return self
        return make(Operation.SLICE, high - low, self, data=low)

    def equals(self, other: Expression | int) -> Expression:
        return make(Operation.EQUAL, 1, self, _same(self, _lift(other, self.width)))

    def less_than(self, other: Expression | int) -> Expression:
        return make(Operation.LESS, 1, self, _same(self, _lift(other, self.width)))

    def repeat(self, count: int) -> Expression:
        """A single bit ``count`` times beside itself."""
        if self.width != 1:
            raise ValueError(f"only a single bit is repeated, this has {self.width}")
        return self if count == 1 else make(Operation.REPLICATE, count, self)

    def __repr__(self) -> str:
        from latchwork.logic.text import written

        return written(self)


_made: dict[tuple[Operation, int, tuple[Expression, ...], Data], Expression] = {}


def make(operation: Operation, width: int, *args: Expression, data: Data = None) -> Expression:
    """The one expression with this operation, width, arguments and data."""
    key = (operation, width, args, data)
    found = _made.get(key)
    if found is None:
        found = _made[key] = Expression(operation, width, args, data)
    return found


def _lift(value: Expression | int, width: int) -> Expression:
    return constant(value, width) if isinstance(value, int) else value


def _same(a: Expression, b: Expression) -> Expression:
    if a.width != b.width:
        raise ValueError(f"widths differ: {a.width} and {b.width}")
    return b


def _bitwise(operation: Operation, a: Expression, b: Expression) -> Expression:
    return make(operation, a.width, a, _same(a, b))


def constant(value: int, width: int = 1) -> Expression:
    """``value`` modulo two to the width."""
    return make(Operation.CONSTANT, width, data=value & ((1 << width) - 1))


def variable(name: str, width: int = 1) -> Expression:
    """A port of the part, or a state of it, by name."""
    return make(Operation.VARIABLE, width, data=name)


def mux(select: Expression, yes: Expression, no: Expression) -> Expression:
    """``yes`` where the single bit ``select`` is 1, else ``no``."""
    if select.width != 1:
        raise ValueError(f"a mux selects by one bit, not {select.width}; use case()")
    return make(Operation.MUX, yes.width, select, yes, _same(yes, no))


def concat(*parts: Expression) -> Expression:
    """Side by side, the first argument in the lowest bits."""
    return parts[0] if len(parts) == 1 else make(Operation.CONCAT, sum(part.width for part in parts), *parts)


def case(select: Expression, values: dict[int, Expression], otherwise: Expression) -> Expression:
    """The value whose key equals ``select``; ``otherwise`` where none does."""
    for value in values.values():
        _same(otherwise, value)
    return make(Operation.CASE, otherwise.width, select, *values.values(), otherwise, data=tuple(values))


def read(memory: str, address: Expression, width: int) -> Expression:
    """The word that the part's memory of that name holds at ``address``."""
    return make(Operation.READ, width, address, data=memory)


def all_of(*parts: Expression) -> Expression:
    """1 where every bit of every part is 1."""
    whole = concat(*parts)
    return whole if whole.width == 1 else whole.equals((1 << whole.width) - 1)


def any_of(*parts: Expression) -> Expression:
    """1 where some bit of some part is 1."""
    whole = concat(*parts)
    return whole if whole.width == 1 else ~whole.equals(0)


def parity(value: Expression) -> Expression:
    """1 where an odd number of bits are 1."""
    bits = [value[i] for i in range(value.width)]
    return bits[0] if len(bits) == 1 else make(Operation.XOR, 1, *bits)
