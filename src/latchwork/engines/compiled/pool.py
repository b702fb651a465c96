"""Expressions over the whole machine: shared, with constants folded and slices of one word put together again.

A chip's expression is rewritten into the pool of one compilation, with the values of its nets and states in the
place of its variables. Equal nodes are one node, so that what several chips ask for is evaluated once. A node comes
after its arguments in the order of ``serial``. Memories go by names of the pool.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import mask
from latchwork.logic.expression import Data

Key = tuple[Operation, int, tuple[Expression, ...], Data]
Lookup = Callable[[str, int, int], Expression]
"""Bits of a variable: its name, the lowest bit, how many."""


class Pool:
    """Makes nodes; every method folds what is constant."""

    def __init__(self) -> None:
        self._made: dict[Key, Expression] = {}
        self.serial: dict[Expression, int] = {}

    def _make(self, operation: Operation, width: int, args: tuple[Expression, ...], data: Data = None) -> Expression:
        key = (operation, width, args, data)
        node = self._made.get(key)
        if node is None:
            node = self._made[key] = Expression(operation, width, args, data)
            self.serial[node] = len(self.serial)
        return node

    def constant(self, value: int, width: int = 1) -> Expression:
        return self._make(Operation.CONSTANT, width, (), value & mask(width))

    def variable(self, name: str, width: int = 1) -> Expression:
        return self._make(Operation.VARIABLE, width, (), name)

    def variable_bits(self, name: str, low: int, width: int) -> Expression:
        """Bits of a variable of which no more is known, as one that stands for those alone."""
        wide = self.variable(name, low + width)
        return self.slice(wide, low, width)

    def read(self, memory: str, address: Expression, width: int) -> Expression:
        return self._make(Operation.READ, width, (address,), memory)

    def reads_of(self, memory: str) -> list[Expression]:
        """Every READ of a memory made so far."""
        return [node for node in self.serial if node.operation is Operation.READ and node.data == memory]

    def invert(self, a: Expression) -> Expression:
        if a.operation is Operation.CONSTANT:
            return self.constant(~number(a), a.width)
        if a.operation is Operation.NOT:
            return a.args[0]
        return self._make(Operation.NOT, a.width, (a,))

    def both(self, *args: Expression) -> Expression:
        """Bit by bit 1 where all are 1."""
        return self._gathered(Operation.AND, args, mask(args[0].width), 0)

    def either(self, *args: Expression) -> Expression:
        """Bit by bit 1 where one is 1."""
        return self._gathered(Operation.OR, args, 0, mask(args[0].width))

    def _gathered(self, operation: Operation, args: Iterable[Expression], neutral: int, absorbing: int) -> Expression:
        kept: dict[Expression, None] = {}
        constant, width = neutral, 0
        for arg in args:
            width = arg.width
            if arg.operation is Operation.CONSTANT:
                constant = constant & number(arg) if operation is Operation.AND else constant | number(arg)
            else:
                kept[arg] = None
        if constant == absorbing or any(self._opposite(arg) in kept for arg in kept):
            return self.constant(absorbing, width)
        for arg in [arg for arg in kept if _is_absorbed(arg, operation, kept)]:
            del kept[arg]
        if constant != neutral or not kept:
            kept[self.constant(constant, width)] = None
        nodes = tuple(kept)
        if len(nodes) == 1:
            return nodes[0]
        return self._chosen(operation, nodes) or self._make(operation, width, nodes)

    def _chosen(self, operation: Operation, nodes: tuple[Expression, ...]) -> Expression | None:
        """Values that one select lets through by turns are a choice by it; choices by one select are one."""
        if operation is Operation.OR:
            gates = [self._gate_of(node) for node in nodes]
            selects = {gate[0] for gate in gates if gate}
            if all(gates) and len(selects) == 1:
                return self._choice(selects.pop(), [gate for gate in gates if gate])
        select = nodes[0].args[0] if nodes[0].args else None
        if all(node.operation is Operation.CASE and node.args[0] is select for node in nodes):
            return self._joint_case(operation, nodes)
        return None

    def _gate_of(self, node: Expression) -> tuple[Expression, dict[int, int], Expression] | None:
        """Of a value that is let through by a select: that, by which of its numbers (-1: others), and the value."""
        if node.operation is not Operation.AND or len(node.args) != 2:
            return None
        for gate, value in (node.args, node.args[::-1]):
            bit = gate.args[0] if gate.operation is Operation.REPLICATE else gate
            if bit.width == 1 and (found := _decoded(bit)) is not None:
                return (*found, value)
        return None

    def _choice(self, select: Expression, gates: list[tuple[Expression, dict[int, int], Expression]]) -> Expression:
        keys = sorted({key for _, open_, _ in gates for key in open_ if key >= 0})
        width = gates[0][2].width
        values = []
        for key in (*keys, -1):
            through = [value for _, open_, value in gates if open_.get(key, open_[-1])]
            values.append(self.either(self.constant(0, width), *through))
        if select.width == 1:
            of = dict(zip(keys, values, strict=False))
            return self.choose(select, of.get(1, values[-1]), of.get(0, values[-1]))
        return self.case(select, tuple(keys), values)

    def _joint_case(self, operation: Operation, nodes: tuple[Expression, ...]) -> Expression:
        keys = tuple(sorted({key for node in nodes for key in _keys(node)}))
        gather = self.both if operation is Operation.AND else self.either
        values = [gather(*(_value_at(node, key) for node in nodes)) for key in (*keys, None)]
        return self.case(nodes[0].args[0], keys, values)

    def _opposite(self, a: Expression) -> Expression | None:
        """The inverse of a node where it exists already."""
        return a.args[0] if a.operation is Operation.NOT else self._made.get((Operation.NOT, a.width, (a,), None))

    def differ(self, *args: Expression) -> Expression:
        """Exclusive or."""
        constant, width = 0, args[0].width
        kept: list[Expression] = []
        for arg in args:
            if arg.operation is Operation.CONSTANT:
                constant ^= number(arg)
            elif arg in kept:
                kept.remove(arg)
            else:
                kept.append(arg)
        if not kept:
            return self.constant(constant, width)
        node = kept[0] if len(kept) == 1 else self._make(Operation.XOR, width, tuple(kept))
        if constant == 0:
            return node
        return self.invert(node) if constant == mask(width) else self._make(
            Operation.XOR, width, (node, self.constant(constant, width))
        )  # fmt: skip

    def add(self, *args: Expression) -> Expression:
        width = args[0].width
        constant = sum(number(arg) for arg in args if arg.operation is Operation.CONSTANT) & mask(width)
        kept = [arg for arg in args if arg.operation is not Operation.CONSTANT]
        if constant or not kept:
            kept.append(self.constant(constant, width))
        return kept[0] if len(kept) == 1 else self._make(Operation.ADD, width, tuple(kept))

    def choose(self, select: Expression, yes: Expression, no: Expression) -> Expression:
        if select.operation is Operation.CONSTANT:
            return yes if number(select) else no
        if yes is no:
            return yes
        if select.operation is Operation.NOT:
            select, yes, no = select.args[0], no, yes
        if yes.width == 1 and yes.operation is Operation.CONSTANT and no.operation is Operation.CONSTANT:
            return select if number(yes) else self.invert(select)
        if yes.operation is Operation.NOT and no.operation is Operation.NOT:
            return self.invert(self.choose(select, yes.args[0], no.args[0]))
        return self._make(Operation.MUX, yes.width, (select, yes, no))

    def join(self, *args: Expression) -> Expression:
        """Side by side, lowest first; neighbouring slices of one word become one slice."""
        parts: list[Expression] = []
        for arg in (piece for each in args for piece in (each.args if each.operation is Operation.CONCAT else (each,))):
            merged = self._merged(parts[-1], arg) if parts else None
            if merged is None:
                parts.append(arg)
            else:
                parts[-1] = merged
        return parts[0] if len(parts) == 1 else self._make(Operation.CONCAT, sum(p.width for p in parts), tuple(parts))

    def _merged(self, low: Expression, high: Expression) -> Expression | None:
        if low.operation is Operation.CONSTANT and high.operation is Operation.CONSTANT:
            return self.constant(number(low) | number(high) << low.width, low.width + high.width)
        if low.operation is Operation.SLICE and high.operation is Operation.SLICE and low.args == high.args:
            neighbours = number(low) + low.width == number(high)
            return self.slice(low.args[0], number(low), low.width + high.width) if neighbours else None
        return None

    def slice(self, a: Expression, low: int, width: int) -> Expression:
        """Bits ``low`` to ``low + width - 1``."""
        if width == a.width:
            return a
        match a.operation:
            case Operation.CONSTANT:
                return self.constant(number(a) >> low, width)
            case Operation.SLICE:
                return self.slice(a.args[0], number(a) + low, width)
            case Operation.CONCAT:
                return self._slice_of_joined(a, low, width)
            case Operation.REPLICATE:
                return self.repeat(a.args[0], width)
        return self._make(Operation.SLICE, width, (a,), low)

    def _slice_of_joined(self, a: Expression, low: int, width: int) -> Expression:
        at, parts = 0, []
        for part in a.args:
            start, end = max(low, at), min(low + width, at + part.width)
            if start < end:
                parts.append(self.slice(part, start - at, end - start))
            at += part.width
        return self.join(*parts)

    def deep_slice(self, a: Expression, low: int, width: int) -> Expression:
        """A slice that is pushed through whatever works bit by bit, so that it depends on no more than it must."""
        if width == a.width:
            return a
        match a.operation:
            case Operation.AND | Operation.OR | Operation.XOR | Operation.NOT:
                return self.remade(a, [self.deep_slice(arg, low, width) for arg in a.args], width)
            case Operation.MUX:
                return self.choose(a.args[0], *(self.deep_slice(arg, low, width) for arg in a.args[1:]))
            case Operation.CASE:
                return self.remade(a, [a.args[0], *(self.deep_slice(arg, low, width) for arg in a.args[1:])], width)
            case Operation.CONCAT:
                at, parts = 0, []
                for part in a.args:
                    start, end = max(low, at), min(low + width, at + part.width)
                    if start < end:
                        parts.append(self.deep_slice(part, start - at, end - start))
                    at += part.width
                return self.join(*parts)
            case Operation.ADD if low + width < a.width:
                cut = self.add(*(self.deep_slice(arg, 0, low + width) for arg in a.args))
                return self.slice(cut, low, width)
        return self.slice(a, low, width)

    def repeat(self, bit: Expression, width: int) -> Expression:
        if width == 1:
            return bit
        if bit.operation is Operation.CONSTANT:
            return self.constant(-number(bit), width)
        return self._make(Operation.REPLICATE, width, (bit,))

    def equal(self, a: Expression, b: Expression) -> Expression:
        if a is b:
            return self.constant(1)
        if a.operation is Operation.CONSTANT and b.operation is Operation.CONSTANT:
            return self.constant(int(number(a) == number(b)))
        if a.width == 1:
            return self.invert(self.differ(a, b))
        if a.operation is Operation.CONSTANT:
            a, b = b, a
        if b.operation is Operation.CONSTANT and a.operation is Operation.CONCAT:
            return self._parts_equal(a, number(b))
        return self._make(Operation.EQUAL, 1, (a, b))

    def _parts_equal(self, a: Expression, value: int) -> Expression:
        parts = []
        for part in a.args:
            parts.append(self.equal(part, self.constant(value, part.width)))
            value >>= part.width
        return self.both(*parts)

    def unequal(self, a: Expression, b: Expression) -> Expression:
        return self.invert(self.equal(a, b))

    def less(self, a: Expression, b: Expression) -> Expression:
        if a is b:
            return self.constant(0)
        if a.operation is Operation.CONSTANT and b.operation is Operation.CONSTANT:
            return self.constant(int(number(a) < number(b)))
        return self._make(Operation.LESS, 1, (a, b))

    def case(self, select: Expression, keys: tuple[int, ...], values: list[Expression]) -> Expression:
        """``values`` holds one more than ``keys``: what stands for every other number."""
        if select.operation is Operation.CONSTANT:
            return values[keys.index(number(select))] if number(select) in keys else values[-1]
        if all(value is values[0] for value in values):
            return values[0]
        return self._make(Operation.CASE, values[0].width, (select, *values), keys)

    def any_bit(self, a: Expression) -> Expression:
        return a if a.width == 1 else self.unequal(a, self.constant(0, a.width))

    def remade(self, node: Expression, args: list[Expression], width: int = 0) -> Expression:
        """The same operation on other arguments. ``width``: where it is another one than the node's."""
        match node.operation:
            case Operation.NOT:
                return self.invert(args[0])
            case Operation.AND:
                return self.both(*args)
            case Operation.OR:
                return self.either(*args)
            case Operation.XOR:
                return self.differ(*args)
            case Operation.ADD:
                return self.add(*args)
            case Operation.MUX:
                return self.choose(args[0], args[1], args[2])
            case Operation.CONCAT:
                return self.join(*args)
            case Operation.SLICE:
                return self.slice(args[0], number(node), node.width)
            case Operation.REPLICATE:
                return self.repeat(args[0], width or node.width)
            case Operation.EQUAL:
                return self.equal(args[0], args[1])
            case Operation.LESS:
                return self.less(args[0], args[1])
            case Operation.CASE:
                assert isinstance(node.data, tuple)
                return self.case(args[0], node.data, args[1:])
            case _:
                raise ValueError(f"{node.operation} has no arguments to be replaced")

    def rewritten(self, root: Expression, lookup: Lookup, memories: Mapping[str, str] = {}) -> Expression:
        """An expression with ``lookup(name, low, width)`` for each variable or
        slice of one, and ``memories[name]`` for each memory."""
        done: dict[Expression, Expression] = {}

        def walk(node: Expression) -> Expression:
            found = done.get(node)
            if found is None:
                found = done[node] = self._rewritten(node, walk, lookup, memories)
            return found

        return walk(root)

    def _rewritten(
        self,
        node: Expression,
        walk: Callable[[Expression], Expression],
        lookup: Lookup,
        memories: Mapping[str, str],
    ) -> Expression:
        match node.operation:
            case Operation.CONSTANT:
                return self.constant(number(node), node.width)
            case Operation.VARIABLE:
                return lookup(str(node.data), 0, node.width)
            case Operation.SLICE if node.args[0].operation is Operation.VARIABLE:
                return lookup(str(node.args[0].data), number(node), node.width)
            case Operation.READ:
                return self.read(memories[str(node.data)], walk(node.args[0]), node.width)
            case _:
                return self.remade(node, [walk(arg) for arg in node.args])


def _is_absorbed(arg: Expression, operation: Operation, others: Mapping[Expression, None]) -> bool:
    """Whether an argument adds nothing to another: a and (a or b), a or (a and b)."""
    dual = Operation.OR if operation is Operation.AND else Operation.AND
    return arg.operation is dual and any(each in others for each in arg.args)


def _decoded(bit: Expression) -> tuple[Expression, dict[int, int]] | None:
    """A bit that hangs on one select alone: that, and the bit for each number of it; -1 for the others."""
    flip = bit.operation is Operation.NOT
    node = bit.args[0] if flip else bit
    if node.operation is Operation.CASE and all(each.operation is Operation.CONSTANT for each in node.args[1:]):
        bits = [number(each) ^ flip for each in node.args[1:]]
        return node.args[0], dict(zip((*_keys(node), -1), bits, strict=True))
    return node, {0: int(flip), 1: 1 - flip, -1: 0}


def _keys(case: Expression) -> tuple[int, ...]:
    assert isinstance(case.data, tuple)
    return case.data


def _value_at(case: Expression, key: int | None) -> Expression:
    return case.args[1 + _keys(case).index(key)] if key in _keys(case) else case.args[-1]


def number(node: Expression) -> int:
    """The value of a constant, the lowest bit of a slice."""
    assert isinstance(node.data, int)
    return node.data


def reads_of(root: Expression) -> list[Expression]:
    """Every READ in an expression."""
    seen, waiting, found = {root}, [root], []
    while waiting:
        node = waiting.pop()
        if node.operation is Operation.READ:
            found.append(node)
        for arg in node.args:
            if arg not in seen:
                seen.add(arg)
                waiting.append(arg)
    return found
