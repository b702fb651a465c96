"""Expressions evaluated for many cases at once, bit by bit and only as far as somebody asks.

A *lane* is one case. What an operation means in lanes stands here once, in ``Evaluation``; what a bit is made of is
left to an ``Algebra``. The plain one stands here too: a bit is a pair of whole numbers (ones, zeros), bit i of ``ones``
says that it is 1 in lane i, bit i of ``zeros`` that it is 0; where neither says so it is unknown there. Whatever is
called known holds for every choice of what is unknown, as with ``logic.evaluate_known``. ``levels`` has another
algebra, with marks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

from latchwork.logic import Expression, Operation

Value = TypeVar("Value")
Lanes = tuple[int, int]
UNKNOWN: Lanes = (0, 0)


class Source(Protocol[Value]):
    """Where an expression's variables and memories come from."""

    def variable(self, name: str, bit: int) -> Value: ...

    def memory(self, read: Expression, address: Callable[[], Sequence[Value]], bit: int) -> Value:
        """Bit ``bit`` of a READ. The address is worked out only when it is called for."""
        ...


@dataclass(frozen=True)
class Algebra(Generic[Value]):
    """What a bit in all lanes is made of. ``fixed(full, level)``: the same level in each lane; ``open(full)``: what
    goes with any level, as the value of a case that never comes; ``never(a, full)``: whether a is 0 in all lanes."""

    fixed: Callable[[int, int], Value]
    open: Callable[[int], Value]
    never: Callable[[Value, int], bool]
    flip: Callable[[Value], Value]
    both: Callable[[Value, Value], Value]
    differ: Callable[[Value, Value], Value]
    choose: Callable[[Value, Value, Value], Value]
    majority: Callable[[Value, Value, Value], Value]


def flip(a: Lanes) -> Lanes:
    return a[1], a[0]


def both(a: Lanes, b: Lanes) -> Lanes:
    return a[0] & b[0], a[1] | b[1]


def either(a: Lanes, b: Lanes) -> Lanes:
    return a[0] | b[0], a[1] & b[1]


def differ(a: Lanes, b: Lanes) -> Lanes:
    return a[0] & b[1] | a[1] & b[0], a[0] & b[0] | a[1] & b[1]


def choose(select: Lanes, yes: Lanes, no: Lanes) -> Lanes:
    """``yes`` where select is 1, ``no`` where it is 0, what both agree on where it is unknown."""
    return (
        select[0] & yes[0] | select[1] & no[0] | yes[0] & no[0],
        select[0] & yes[1] | select[1] & no[1] | yes[1] & no[1],
    )


def majority(a: Lanes, b: Lanes, c: Lanes) -> Lanes:
    return a[0] & b[0] | a[0] & c[0] | b[0] & c[0], a[1] & b[1] | a[1] & c[1] | b[1] & c[1]


def variables(count: int) -> list[Lanes]:
    """``count`` variables over 2**count lanes: variable k is bit k of the lane's number."""
    full = (1 << (1 << count)) - 1
    found = []
    for k in range(count):
        zeros = full // ((1 << (1 << k)) + 1)
        found.append((full ^ zeros, zeros))
    return found


PLAIN: Algebra[Lanes] = Algebra(
    fixed=lambda full, level: (full, 0) if level else (0, full),
    open=lambda full: (full, full),
    never=lambda a, full: a[1] == full,
    flip=flip,
    both=both,
    differ=differ,
    choose=choose,
    majority=majority,
)


class Evaluation(Generic[Value]):
    """One part's expressions over one set of lanes, each bit worked out once."""

    def __init__(self, full: int, source: Source[Value], algebra: Algebra[Value]) -> None:
        self._full = full
        self._source = source
        self._algebra = algebra
        self._zero, self._one = algebra.fixed(full, 0), algebra.fixed(full, 1)
        self._done: dict[tuple[object, ...], Value] = {}

    def bit(self, node: Expression, index: int = 0) -> Value:
        """Bit ``index`` of the expression."""
        found = self._done.get((node, index))
        if found is None:
            found = self._done[node, index] = self._find(node, index)
        return found

    def _once(self, key: tuple[object, ...], find: Callable[[], Value]) -> Value:
        found = self._done.get(key)
        if found is None:
            found = self._done[key] = find()
        return found

    def _never(self, value: Value) -> bool:
        return self._algebra.never(value, self._full)

    def _find(self, node: Expression, index: int) -> Value:
        args = node.args
        match node.operation:
            case Operation.CONSTANT:
                return self._one if int(node.data) >> index & 1 else self._zero  # type: ignore[arg-type]
            case Operation.VARIABLE:
                return self._source.variable(str(node.data), index)
            case Operation.NOT:
                return self._algebra.flip(self.bit(args[0], index))
            case Operation.AND:
                return self._every(args, index)
            case Operation.OR:
                return self._algebra.flip(self._every(args, index, turned=True))
            case Operation.XOR:
                return self._parity([self.bit(argument, index) for argument in args])
            case Operation.ADD:
                return self._sum(node, len(args) - 1, index)
            case Operation.MUX:
                return self._mux(node, index)
            case Operation.CONCAT:
                return self._beside(node, index)
            case Operation.SLICE:
                return self.bit(args[0], index + int(node.data))  # type: ignore[arg-type]
            case Operation.REPLICATE:
                return self.bit(args[0], 0)
            case Operation.EQUAL:
                return self._equal(args[0], args[1])
            case Operation.LESS:
                return self._less(args[0], args[1], args[0].width)
            case Operation.CASE:
                return self._case(node, index)
            case Operation.READ:
                return self._source.memory(node, lambda: self._bits(args[0]), index)

    def _bits(self, node: Expression) -> list[Value]:
        return [self.bit(node, at) for at in range(node.width)]

    def _every(self, nodes: Iterable[Expression], index: int, turned: bool = False) -> Value:
        """AND of a bit of each node, or of its inverse; asks no further once it is 0 in every lane."""
        result = self._one
        for node in nodes:
            value = self.bit(node, index)
            result = self._algebra.both(result, self._algebra.flip(value) if turned else value)
            if self._never(result):
                break
        return result

    def _parity(self, values: Iterable[Value]) -> Value:
        result = self._zero
        for value in values:
            result = self._algebra.differ(result, value)
        return result

    def _mux(self, node: Expression, index: int) -> Value:
        select = self.bit(node.args[0])
        if self._never(select):
            return self.bit(node.args[2], index)
        if self._never(self._algebra.flip(select)):
            return self.bit(node.args[1], index)
        return self._algebra.choose(select, self.bit(node.args[1], index), self.bit(node.args[2], index))

    def _beside(self, node: Expression, index: int) -> Value:
        for argument in node.args:
            if index < argument.width:
                return self.bit(argument, index)
            index -= argument.width
        raise IndexError(index)

    def _equal(self, a: Expression, b: Expression) -> Value:
        result = self._one
        for at in range(a.width):
            unlike = self._algebra.differ(self.bit(a, at), self.bit(b, at))
            result = self._algebra.both(result, self._algebra.flip(unlike))
            if self._never(result):
                break
        return result

    def _less(self, a: Expression, b: Expression, width: int) -> Value:
        """a < b for the lowest ``width`` bits: the borrow of a - b."""
        borrow = self._zero
        for at in range(width):
            borrow = self._algebra.majority(self._algebra.flip(self.bit(a, at)), self.bit(b, at), borrow)
        return borrow

    def _sum(self, node: Expression, last: int, index: int) -> Value:
        """Bit ``index`` of the sum of the arguments up to number ``last``."""
        if last == 0:
            return self.bit(node.args[0], index)
        return self._once((node, last, index), lambda: self._parity(self._column(node, last, index)))

    def _column(self, node: Expression, last: int, index: int) -> list[Value]:
        addend = self.bit(node.args[last], index)
        return [self._sum(node, last - 1, index), addend, self._carry(node, last, index)]

    def _carry(self, node: Expression, last: int, index: int) -> Value:
        """The carry into bit ``index`` where argument number ``last`` is added to those before it."""
        carry = self._zero
        for at in range(index):
            key = (node, last, at, "carry")
            into = carry
            carry = self._once(key, lambda at=at, into=into: self._algebra.majority(  # type: ignore[misc]
                self._sum(node, last - 1, at), self.bit(node.args[last], at), into))  # fmt: skip
        return carry

    def _case(self, node: Expression, index: int) -> Value:
        """What all values agree on that a lane's selection leaves possible."""
        assert isinstance(node.data, tuple)
        select = self._bits(node.args[0])
        hits = [self._hit(select, key) for key in node.data]
        result = self._otherwise(node, index, hits)
        for hit, argument in zip(reversed(hits), reversed(node.args[1:-1]), strict=True):
            if not self._never(hit):
                result = self._algebra.choose(hit, self.bit(argument, index), result)
        return result

    def _hit(self, select: Sequence[Value], key: int) -> Value:
        result = self._one
        for at, bit in enumerate(select):
            result = self._algebra.both(result, bit if key >> at & 1 else self._algebra.flip(bit))
            if self._never(result):
                break
        return result

    def _otherwise(self, node: Expression, index: int, hits: Sequence[Value]) -> Value:
        """The last value of a case, where some lane may come to it."""
        if len(hits) == 1 << node.args[0].width:
            return self._algebra.open(self._full)
        missed = self._one
        for hit in hits:
            missed = self._algebra.both(missed, self._algebra.flip(hit))
        return self._algebra.open(self._full) if self._never(missed) else self.bit(node.args[-1], index)


class Sliced(Evaluation[Lanes]):
    """An evaluation without marks."""

    def __init__(self, full: int, source: Source[Lanes]) -> None:
        super().__init__(full, source, PLAIN)
