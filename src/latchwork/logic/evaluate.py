"""The plain evaluator: the definition of what every operation means.

Two readings. ``evaluate`` works on whole numbers. ``evaluate_known`` works on pairs (value, known): a mask bit
of 1 says that the bit is known; unknown bits of value are 0. Whatever it calls known holds for every choice of
the unknown bits.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from latchwork.logic.expression import Expression, Operation

Memories = Mapping[str, Callable[[int], int]]
Known = tuple[int, int]
KnownMemories = Mapping[str, Callable[[Known], Known]]


def evaluate(expression: Expression, variables: Mapping[str, int], memories: Memories = {}) -> int:  # noqa: B006
    """The value, as an unsigned number of ``expression.width`` bits. KeyError where a variable has no value."""
    done: dict[Expression, int] = {}

    def value(node: Expression) -> int:
        if node not in done:
            done[node] = _apply(node, value, variables, memories) & mask(node.width)
        return done[node]

    return value(expression)


def mask(width: int) -> int:
    return (1 << width) - 1


def _apply(
    node: Expression, value: Callable[[Expression], int], variables: Mapping[str, int], memories: Memories
) -> int:
    operation, args = node.operation, node.args
    match operation:
        case Operation.CONSTANT:
            return int(node.data)  # type: ignore[arg-type]
        case Operation.VARIABLE:
            return variables[str(node.data)]
        case Operation.NOT:
            return ~value(args[0])
        case Operation.MUX:
            return value(args[1]) if value(args[0]) else value(args[2])
        case Operation.SLICE:
            return value(args[0]) >> int(node.data)  # type: ignore[arg-type]
        case Operation.REPLICATE:
            return mask(node.width) if value(args[0]) else 0
        case Operation.EQUAL:
            return int(value(args[0]) == value(args[1]))
        case Operation.LESS:
            return int(value(args[0]) < value(args[1]))
        case Operation.CASE:
            return value(chosen(node, value(args[0])))
        case Operation.READ:
            return memories[str(node.data)](value(args[0]))
        case _:
            return _many(node, [value(argument) for argument in args])


def chosen(node: Expression, select: int) -> Expression:
    """The argument of a CASE that ``select`` picks."""
    assert isinstance(node.data, tuple)
    return node.args[1 + node.data.index(select)] if select in node.data else node.args[-1]


def _many(node: Expression, values: list[int]) -> int:
    result = values[0]
    shift = node.args[0].width
    for argument, value in zip(node.args[1:], values[1:], strict=True):
        match node.operation:
            case Operation.AND:
                result &= value
            case Operation.OR:
                result |= value
            case Operation.XOR:
                result ^= value
            case Operation.ADD:
                result += value
            case Operation.CONCAT:
                result |= value << shift
                shift += argument.width
    return result


def evaluate_known(
    expression: Expression,
    variables: Mapping[str, Known],
    memories: KnownMemories = {},  # noqa: B006
) -> Known:
    """The value and the mask of known bits. A missing variable is wholly unknown, a missing memory too."""
    done: dict[Expression, Known] = {}

    def value(node: Expression) -> Known:
        if node not in done:
            bits, known = _apply_known(node, value, variables, memories)
            known &= mask(node.width)
            done[node] = bits & known, known
        return done[node]

    return value(expression)


def _apply_known(
    node: Expression, value: Callable[[Expression], Known], variables: Mapping[str, Known], memories: KnownMemories
) -> Known:
    operation, args = node.operation, node.args
    match operation:
        case Operation.CONSTANT:
            return int(node.data), mask(node.width)  # type: ignore[arg-type]
        case Operation.VARIABLE:
            return variables.get(str(node.data), (0, 0))
        case Operation.NOT:
            bits, known = value(args[0])
            return ~bits, known
        case Operation.MUX:
            select, known = value(args[0])
            if known:
                return value(args[1] if select else args[2])
            return agreement(value(args[1]), value(args[2]))
        case Operation.SLICE:
            bits, known = value(args[0])
            return bits >> int(node.data), known >> int(node.data)  # type: ignore[arg-type]
        case Operation.REPLICATE:
            bits, known = value(args[0])
            return (mask(node.width) if bits else 0), (mask(node.width) if known else 0)
        case Operation.EQUAL:
            return _equal_known(value(args[0]), value(args[1]), args[0].width)
        case Operation.LESS:
            return _less_known(value(args[0]), value(args[1]), args[0].width)
        case Operation.CASE:
            return _case_known(node, value)
        case Operation.READ:
            reader = memories.get(str(node.data))
            return reader(value(args[0])) if reader else (0, 0)
        case _:
            return _many_known(node, [value(argument) for argument in args])


def agreement(a: Known, b: Known) -> Known:
    """The bits that are known and equal in both."""
    known = a[1] & b[1] & ~(a[0] ^ b[0])
    return a[0] & known, known


def _equal_known(a: Known, b: Known, width: int) -> Known:
    both = a[1] & b[1]
    if (a[0] ^ b[0]) & both:
        return 0, 1
    return (1, 1) if both == mask(width) else (0, 0)


def _less_known(a: Known, b: Known, width: int) -> Known:
    lowest, highest = [x[0] for x in (a, b)], [x[0] | (mask(width) & ~x[1]) for x in (a, b)]
    if highest[0] < lowest[1]:
        return 1, 1
    return (0, 1) if lowest[0] >= highest[1] else (0, 0)


def _case_known(node: Expression, value: Callable[[Expression], Known]) -> Known:
    select, known = value(node.args[0])
    if known == mask(node.args[0].width):
        return value(chosen(node, select))
    assert isinstance(node.data, tuple)
    reached = [i for i, key in enumerate(node.data) if not (key ^ select) & known]
    result = None
    possible = 1 << (node.args[0].width - known.bit_count())
    arguments = [node.args[1 + i] for i in reached] + ([node.args[-1]] if len(reached) < possible else [])
    for argument in arguments:
        result = value(argument) if result is None else agreement(result, value(argument))
    assert result is not None
    return result


def _many_known(node: Expression, values: list[Known]) -> Known:
    bits, known = values[0]
    shift = node.args[0].width
    for argument, (other, other_known) in zip(node.args[1:], values[1:], strict=True):
        match node.operation:
            case Operation.AND:
                known = known & other_known | known & ~bits | other_known & ~other
                bits &= other
            case Operation.OR:
                known = known & other_known | known & bits | other_known & other
                bits |= other
            case Operation.XOR:
                known &= other_known
                bits ^= other
            case Operation.ADD:
                bits, known = _add_known((bits, known), (other, other_known), node.width)
            case Operation.CONCAT:
                bits, known = bits | other << shift, known | other_known << shift
                shift += argument.width
    return bits, known


def _add_known(a: Known, b: Known, width: int) -> Known:
    """A sum bit is known where both its bits and the carry into it are; carries from least and greatest sums."""
    full = mask(width)
    least = a[0] + b[0]
    greatest = (a[0] | full & ~a[1]) + (b[0] | full & ~b[1])
    carry_least = least ^ a[0] ^ b[0]
    carry_greatest = greatest ^ (a[0] | full & ~a[1]) ^ (b[0] | full & ~b[1])
    known = a[1] & b[1] & ~(carry_least ^ carry_greatest)
    return least & known, known & full
