"""Which bits of a value may hang on bits of its variables that nothing drives.

What is called untouched here is untouched in ``logic.evaluate_known`` as well; the opposite is not promised, so that
a value called touched is a reason to look closer, not a finding.
"""

from __future__ import annotations

from collections.abc import Callable

from latchwork.engines.compiled.pool import Pool
from latchwork.logic import Expression, Operation


def touched(
    pool: Pool,
    root: Expression,
    value: Callable[[Expression], Expression],
    open_bits: Callable[[str, int], Expression],
) -> Expression:
    """``value``: what a node of the chip's expression is in the pool; ``open_bits``: the mask of a variable's bits
    that nothing drives. The result is as wide as ``root``."""
    done: dict[Expression, Expression] = {}

    def walk(node: Expression) -> Expression:
        if node not in done:
            done[node] = _touched(pool, node, walk, value, open_bits)
        return done[node]

    return walk(root)


def _touched(
    pool: Pool,
    node: Expression,
    walk: Callable[[Expression], Expression],
    value: Callable[[Expression], Expression],
    open_bits: Callable[[str, int], Expression],
) -> Expression:
    match node.operation:
        case Operation.CONSTANT:
            return pool.constant(0, node.width)
        case Operation.VARIABLE:
            return open_bits(str(node.data), node.width)
        case Operation.NOT | Operation.CONCAT | Operation.SLICE | Operation.REPLICATE:
            args = [walk(arg) for arg in node.args]
            return args[0] if node.operation is Operation.NOT else pool.remade(node, args)
        case Operation.AND | Operation.OR:
            return _gate(pool, node, walk, value)
        case Operation.XOR:
            return pool.either(*(walk(arg) for arg in node.args))
        case Operation.MUX:
            chosen = pool.choose(value(node.args[0]), walk(node.args[1]), walk(node.args[2]))
            return pool.either(pool.repeat(walk(node.args[0]), node.width), chosen)
        case Operation.CASE:
            assert isinstance(node.data, tuple)
            chosen = pool.case(value(node.args[0]), node.data, [walk(arg) for arg in node.args[1:]])
            return pool.either(pool.repeat(pool.any_bit(walk(node.args[0])), node.width), chosen)
        case _:
            any_of = pool.either(*(pool.any_bit(walk(arg)) for arg in node.args))
            return pool.repeat(any_of, node.width)


def _gate(
    pool: Pool,
    node: Expression,
    walk: Callable[[Expression], Expression],
    value: Callable[[Expression], Expression],
) -> Expression:
    """A touched bit passes where no other argument, known, decides."""
    reached = pool.either(*(walk(arg) for arg in node.args))
    passing = []
    for arg in node.args:
        level = value(arg) if node.operation is Operation.AND else pool.invert(value(arg))
        passing.append(pool.either(walk(arg), level))
    return pool.both(reached, *passing)
