"""Expressions evaluated for many cases at once, bit by bit and only as far as somebody asks.

A *lane* is one case. A bit of an expression is a pair of whole numbers (ones, zeros): bit i of ``ones`` says that
the bit is 1 in lane i, bit i of ``zeros`` that it is 0; where neither says so it is unknown there. Whatever is
called known holds for every choice of what is unknown, as with ``logic.evaluate_known``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Protocol

from latchwork.logic import Expression, Operation

Lanes = tuple[int, int]
UNKNOWN: Lanes = (0, 0)


class Source(Protocol):
    """Where an expression's variables and memories come from."""

    def variable(self, name: str, bit: int) -> Lanes: ...

    def memory(self, name: str, address: Sequence[Lanes], bit: int) -> Lanes: ...


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


class Sliced:
    """One part's expressions over one set of lanes, each bit worked out once."""

    def __init__(self, full: int, source: Source) -> None:
        self._full = full
        self._source = source
        self._done: dict[tuple[object, ...], Lanes] = {}

    def bit(self, node: Expression, index: int = 0) -> Lanes:
        """Bit ``index`` of the expression."""
        return self._once((node, index), lambda: self._find(node, index))

    def _once(self, key: tuple[object, ...], find: Callable[[], Lanes]) -> Lanes:
        found = self._done.get(key)
        if found is None:
            found = self._done[key] = find()
        return found

    def _fixed(self, value: int) -> Lanes:
        return (self._full, 0) if value else (0, self._full)

    def _find(self, node: Expression, index: int) -> Lanes:
        args = node.args
        match node.operation:
            case Operation.CONSTANT:
                return self._fixed(int(node.data) >> index & 1)  # type: ignore[arg-type]
            case Operation.VARIABLE:
                return self._source.variable(str(node.data), index)
            case Operation.NOT:
                return flip(self.bit(args[0], index))
            case Operation.AND:
                return self._all(self.bit(argument, index) for argument in args)
            case Operation.OR:
                return flip(self._all(flip(self.bit(argument, index)) for argument in args))
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
                address = [self.bit(args[0], at) for at in range(args[0].width)]
                return self._source.memory(str(node.data), address, index)

    def _all(self, values: Iterable[Lanes]) -> Lanes:
        """AND that asks no further once it is 0 in every lane."""
        result = self._fixed(1)
        for value in values:
            result = both(result, value)
            if result[1] == self._full:
                break
        return result

    def _parity(self, values: Iterable[Lanes]) -> Lanes:
        result = self._fixed(0)
        for value in values:
            result = differ(result, value)
        return result

    def _mux(self, node: Expression, index: int) -> Lanes:
        select = self.bit(node.args[0])
        if self._full in select:
            return self.bit(node.args[1 if select[0] == self._full else 2], index)
        return choose(select, self.bit(node.args[1], index), self.bit(node.args[2], index))

    def _beside(self, node: Expression, index: int) -> Lanes:
        for argument in node.args:
            if index < argument.width:
                return self.bit(argument, index)
            index -= argument.width
        raise IndexError(index)

    def _equal(self, a: Expression, b: Expression) -> Lanes:
        return self._all(flip(differ(self.bit(a, at), self.bit(b, at))) for at in range(a.width))

    def _less(self, a: Expression, b: Expression, width: int) -> Lanes:
        """a < b for the lowest ``width`` bits: the borrow of a - b."""
        borrow = self._fixed(0)
        for at in range(width):
            borrow = majority(flip(self.bit(a, at)), self.bit(b, at), borrow)
        return borrow

    def _sum(self, node: Expression, last: int, index: int) -> Lanes:
        """Bit ``index`` of the sum of the arguments up to number ``last``."""
        if last == 0:
            return self.bit(node.args[0], index)
        return self._once((node, last, index), lambda: self._parity(self._column(node, last, index)))

    def _column(self, node: Expression, last: int, index: int) -> list[Lanes]:
        addend = self.bit(node.args[last], index)
        return [self._sum(node, last - 1, index), addend, self._carry(node, last, index)]

    def _carry(self, node: Expression, last: int, index: int) -> Lanes:
        """The carry into bit ``index`` where argument number ``last`` is added to those before it."""
        carry = self._fixed(0)
        for at in range(index):
            key = (node, last, at, "carry")
            into = carry
            carry = self._once(key, lambda at=at, into=into: majority(  # type: ignore[misc]
                self._sum(node, last - 1, at), self.bit(node.args[last], at), into))  # fmt: skip
        return carry

    def _case(self, node: Expression, index: int) -> Lanes:
        """What all values agree on that a lane's selection leaves possible."""
        select = [self.bit(node.args[0], at) for at in range(node.args[0].width)]
        ones = zeros = left = self._full
        certain = 0
        assert isinstance(node.data, tuple)
        for key, argument in zip(node.data, node.args[1:], strict=False):
            hit = self._all(bit if key >> at & 1 else flip(bit) for at, bit in enumerate(select))
            possible = self._full & ~hit[1]
            certain |= hit[0]
            if possible:
                value = self.bit(argument, index)
                ones &= value[0] | ~possible
                zeros &= value[1] | ~possible
        left &= ~certain
        if left and len(node.data) < 1 << len(select):
            value = self.bit(node.args[-1], index)
            ones &= value[0] | ~left
            zeros &= value[1] | ~left
        return ones & self._full, zeros & self._full
