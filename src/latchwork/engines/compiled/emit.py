"""Expressions of the pool as instructions of LLVM, each node once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.pool import Pool, number
from latchwork.engines.compiled.settling import LoopStep
from latchwork.logic import Expression, Operation

CELL = ir.IntType(64)
POINTER = ir.PointerType()


def bits(width: int) -> ir.IntType:
    return ir.IntType(width)


@dataclass(frozen=True)
class Buffer:
    """A memory: where it lies, and how many bits each of its words takes there."""

    address: int
    stored: int


class Emitter:
    """Writes into the block where ``builder`` stands. ``load`` gives a variable that is not bound to a value.

    ``troubles`` gathers the conditions under which what was written so far does not hold: a loop that did not settle.
    """

    def __init__(
        self,
        pool: Pool,
        builder: Any,
        load: Callable[[ir.IRBuilder, str, int], Any],
        buffers: Mapping[str, Buffer],
    ) -> None:
        self.pool = pool
        self.builder = builder
        self.load = load
        self.buffers = dict(buffers)
        self.troubles: list[Any] = []
        self._scopes: list[dict[Expression, Any]] = [{}]
        self._bound: dict[str, Any] = {}

    def value(self, root: Expression) -> Any:
        """The value of an expression."""
        found = self._found(root)
        if found is None:
            for node in self._missing(root):
                self._scopes[-1][node] = self._written(node)
            found = self._found(root)
        return found

    def bind(self, name: str, value: Any) -> None:
        """From here on a variable is this value."""
        self._bound[name] = value

    def alias(self, name: str, memory: str) -> None:
        """Another name of a memory, for what is read after a write."""
        self.buffers[name] = self.buffers[memory]

    def any_of(self, conditions: Iterable[Expression]) -> Any:
        """One bit: whether one of them holds."""
        live = list(dict.fromkeys(conditions))
        return self.value(self.pool.either(self.pool.constant(0), *live))

    def _found(self, node: Expression) -> Any:
        return next((scope[node] for scope in reversed(self._scopes) if node in scope), None)

    def _missing(self, root: Expression) -> list[Expression]:
        """Nodes to be written for a root, arguments first."""
        seen, waiting = {root}, [root]
        while waiting:
            for arg in waiting.pop().args:
                if arg not in seen and self._found(arg) is None:
                    seen.add(arg)
                    waiting.append(arg)
        return sorted(seen, key=self.pool.serial.__getitem__)

    def _written(self, node: Expression) -> Any:
        b, kind = self.builder, bits(node.width)
        if node.operation is Operation.CONSTANT:
            return kind(number(node))
        if node.operation is Operation.VARIABLE:
            name = str(node.data)
            return self._bound[name] if name in self._bound else self.load(b, name, node.width)
        args = [self._found(arg) for arg in node.args]
        match node.operation:
            case Operation.NOT:
                return b.not_(args[0])
            case Operation.MUX:
                return b.select(args[0], args[1], args[2])
            case Operation.SLICE:
                low = number(node)
                shifted = b.lshr(args[0], args[0].type(low)) if low else args[0]
                return b.trunc(shifted, kind) if node.width < node.args[0].width else shifted
            case Operation.REPLICATE:
                return b.sext(args[0], kind)
            case Operation.EQUAL:
                return b.icmp_unsigned("==", args[0], args[1])
            case Operation.LESS:
                return b.icmp_unsigned("<", args[0], args[1])
            case Operation.CONCAT:
                return self._joined(args, kind)
            case Operation.CASE:
                return self._case(node, args)
            case Operation.READ:
                return self.read(str(node.data), args[0], node.width)
            case _:
                return self._many(node.operation, args)

    def _many(self, operation: Operation, args: list[Any]) -> Any:
        b = self.builder
        write = {Operation.AND: b.and_, Operation.OR: b.or_, Operation.XOR: b.xor, Operation.ADD: b.add}[operation]
        result = args[0]
        for arg in args[1:]:
            result = write(result, arg)
        return result

    def _joined(self, args: list[Any], kind: ir.IntType) -> Any:
        result, at = None, 0
        for arg in args:
            wide = self.builder.zext(arg, kind)
            placed = self.builder.shl(wide, kind(at)) if at else wide
            result = placed if result is None else self.builder.or_(result, placed)
            at += arg.type.width
        return result

    def _case(self, node: Expression, args: list[Any]) -> Any:
        assert isinstance(node.data, tuple)
        result = args[-1]
        for key, value in zip(reversed(node.data), reversed(args[1:-1]), strict=True):
            hit = self.builder.icmp_unsigned("==", args[0], args[0].type(key))
            result = self.builder.select(hit, value, result)
        return result

    def branch(self, builder: Any) -> Emitter:
        """To go on in a block that comes after this one, with what is written here."""
        found = Emitter(self.pool, builder, self.load, self.buffers)
        found._scopes = [dict(self._scopes[0])]
        found._bound = dict(self._bound)
        return found

    # Memories

    def cell_of(self, memory: str, address: Any) -> tuple[Any, ir.IntType]:
        """Pointer to a word of a memory, and the type it has there."""
        buffer, b = self.buffers[memory], self.builder
        kind = bits(buffer.stored)
        base = b.inttoptr(CELL(buffer.address), POINTER)
        wide = b.zext(address, CELL) if address.type.width < 64 else address
        return b.gep(base, [wide], source_etype=kind), kind

    def read(self, memory: str, address: Any, width: int) -> Any:
        pointer, kind = self.cell_of(memory, address)
        word = self.builder.load(pointer, typ=kind)
        return self.builder.trunc(word, bits(width)) if width < kind.width else word

    def write(self, memory: str, address: Any, value: Any) -> None:
        pointer, kind = self.cell_of(memory, address)
        wide = self.builder.zext(value, kind) if value.type.width < kind.width else value
        self.builder.store(wide, pointer)

    # Loops

    def loop(self, step: LoopStep) -> None:
        """Write a loop; its final variables are bound from here on."""
        b = self.builder
        starts = [self.value(start) for start in step.start]
        before, body = b.block, b.append_basic_block("loop")
        after = b.append_basic_block("settled")
        b.branch(body)
        b.position_at_end(body)
        count, trapped = b.phi(CELL), b.phi(bits(1))
        count.add_incoming(CELL(1), before)
        trapped.add_incoming(bits(1)(0), before)
        phis = [b.phi(start.type) for start in starts]
        self._scopes.append({})
        for name, phi, start in zip(step.current, phis, starts, strict=True):
            phi.add_incoming(start, before)
            self._bound[name] = phi
        following = [self.value(each) for each in step.following]
        traps = b.or_(trapped, self.any_of(step.traps))
        changed = bits(1)(0)
        for phi, value in zip(phis, following, strict=True):
            changed = b.or_(changed, b.icmp_unsigned("!=", phi, value))
            phi.add_incoming(value, body)
        count.add_incoming(b.add(count, CELL(1)), body)
        trapped.add_incoming(traps, body)
        b.cbranch(b.and_(changed, b.icmp_unsigned("<", count, CELL(step.bound))), body, after)
        self._scopes.pop()
        b.position_at_end(after)
        self.troubles += [changed, traps]
        for name, value in zip(step.final, following, strict=True):
            self._bound[name] = value
