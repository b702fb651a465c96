"""A behaviour in elementary operations: sums, comparisons and choices written out bit by bit.

What is left are NOT, AND, OR, XOR, MUX and wires, as a chip of gates would have them; so a stuck carry inside of a sum
or a stuck word line of a decoder is a fault of its own.
"""

from __future__ import annotations

from dataclasses import replace

from latchwork.analysis.one_part.rewriting import rewritten
from latchwork.logic import Expression, Operation, concat, constant, mux
from latchwork.logic.expression import make
from latchwork.parts import Part

ZERO, ONE = constant(0), constant(1)
Bits = list[Expression]


def elementary(part: Part) -> Part:
    """The same part with such a behaviour."""
    return replace(part, behaviour=rewritten(part.behaviour, _written_out))


def _written_out(node: Expression, arguments: Bits) -> Expression | None:
    match node.operation:
        case Operation.NOT if arguments[0].operation is Operation.CONSTANT:
            return constant(~int(arguments[0].data), node.width)  # type: ignore[arg-type]
        case Operation.ADD:
            return concat(*_sum([bits(argument) for argument in arguments]))
        case Operation.EQUAL:
            a, b = arguments
            return ~_any([_differ(x, y) for x, y in zip(bits(a), bits(b), strict=True)])
        case Operation.LESS:
            return _less(bits(arguments[0]), bits(arguments[1]))
        case Operation.CASE:
            return _case(node, arguments)
    return None


def bits(node: Expression) -> Bits:
    """Each bit of a node, straight from where it comes."""
    if node.operation is Operation.CONSTANT:
        return [constant(int(node.data) >> place) for place in range(node.width)]  # type: ignore[arg-type]
    if node.operation is Operation.CONCAT:
        return [bit for argument in node.args for bit in bits(argument)]
    if node.operation is Operation.SLICE:
        low = int(node.data)  # type: ignore[arg-type]
        return bits(node.args[0])[low : low + node.width]
    return [node] if node.width == 1 else [node[place] for place in range(node.width)]


def _sum(addends: list[Bits]) -> Bits:
    """An addend of the lowest bit alone goes in as a carry."""
    carries = [each for each in addends if len(addends) > 1 and all(bit is ZERO for bit in each[1:])]
    carry = carries[0][0] if carries and len(addends) > 2 else ZERO
    rest = [each for each in addends if carry is ZERO or each is not carries[0]]
    total = rest[0]
    for addend in rest[1:]:
        total, carry = _ripple(total, addend, carry), ZERO
    return total


def _ripple(a: Bits, b: Bits, carry: Expression) -> Bits:
    result = []
    for place, (x, y) in enumerate(zip(a, b, strict=True)):
        half = _differ(x, y)
        result.append(_differ(half, carry))
        if place + 1 < len(a):
            carry = _carry(x, y, half, carry)
    return result


def _carry(x: Expression, y: Expression, half: Expression, carry: Expression) -> Expression:
    for one, other, third in ((x, y, carry), (y, x, carry), (carry, x, y)):
        if one is ZERO:
            return _both(other, third)
        if one is ONE:
            return ~_both(~other, ~third)
    return mux(half, carry, x)


def _both(a: Expression, b: Expression) -> Expression:
    if ZERO in (a, b):
        return ZERO
    if ONE in (a, b):
        return b if a is ONE else a
    return a & b


def _differ(a: Expression, b: Expression) -> Expression:
    if a.operation is Operation.CONSTANT:
        a, b = b, a
    if b is ZERO:
        return a
    if b is ONE:
        return constant(1 - int(a.data)) if a.operation is Operation.CONSTANT else ~a  # type: ignore[arg-type]
    return a ^ b


def _any(of: Bits) -> Expression:
    return of[0] if len(of) == 1 else make(Operation.OR, 1, *of)


def _all(of: Bits) -> Expression:
    return of[0] if len(of) == 1 else make(Operation.AND, 1, *of)


def _less(a: Bits, b: Bits) -> Expression:
    """The borrow of a - b."""
    borrow = _both(~a[0], b[0])
    for x, y in zip(a[1:], b[1:], strict=True):
        borrow = mux(_differ(x, y), y, borrow)
    return borrow


def _case(node: Expression, arguments: Bits) -> Expression:
    """Each key decoded by an AND, each value let through by its line."""
    assert isinstance(node.data, tuple)
    select, *values, otherwise = arguments
    lines = [_line(bits(select), key) for key in node.data]
    if len(lines) < 1 << select.width:
        lines, values = [*lines, ~_any(lines)], [*values, otherwise]
    columns = [bits(value) for value in values]
    through = [
        [_both(line, column[place]) for line, column in zip(lines, columns, strict=True)] for place in range(node.width)
    ]
    return concat(*(_any([bit for bit in row if bit is not ZERO] or [ZERO]) for row in through))


def _line(select: Bits, key: int) -> Expression:
    return _all([bit if key >> place & 1 else ~bit for place, bit in enumerate(select)])
