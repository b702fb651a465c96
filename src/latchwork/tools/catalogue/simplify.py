"""Expressions with some variables known: folded, so that what is left can be named."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from latchwork.logic import Expression, Operation, constant
from latchwork.logic.evaluate import evaluate, mask
from latchwork.logic.expression import make

Known = Mapping[str, int]


def simplified(expression: Expression, known: Known) -> Expression:
    """The expression where variables of one bit have the known levels. Ports are whole variables."""
    done: dict[Expression, Expression] = {}

    def fold(node: Expression) -> Expression:
        if node not in done:
            done[node] = _folded(node, known, fold)
        return done[node]

    return fold(expression)


def _folded(node: Expression, known: Known, fold: Callable[[Expression], Expression]) -> Expression:
    if node.operation is Operation.VARIABLE:
        name = str(node.data)
        return constant(known[name], node.width) if name in known else node
    if node.operation is Operation.CONSTANT:
        return node
    if node.operation is Operation.MUX:
        return _mux(*(fold(argument) for argument in node.args))
    arguments = [fold(argument) for argument in node.args]
    if all(argument.operation is Operation.CONSTANT for argument in arguments) and node.operation is not Operation.READ:
        whole = make(node.operation, node.width, *arguments, data=node.data)
        return constant(evaluate(whole, {}), node.width)
    return _partly(node, arguments)


def _mux(select: Expression, yes: Expression, no: Expression) -> Expression:
    if select.operation is Operation.CONSTANT:
        return yes if select.data else no
    if yes is no:
        return yes
    if yes.width == 1 and yes.operation is no.operation is Operation.CONSTANT:
        return select if yes.data else inverted(select)
    return make(Operation.MUX, yes.width, select, yes, no)


def inverted(node: Expression) -> Expression:
    return node.args[0] if node.operation is Operation.NOT else ~node


def _partly(node: Expression, arguments: list[Expression]) -> Expression:
    match node.operation:
        case Operation.NOT:
            return inverted(arguments[0])
        case Operation.AND | Operation.OR:
            return _gate(node, arguments)
        case Operation.XOR | Operation.ADD:
            return _without_zero(node, arguments)
        case Operation.CASE:
            return _case(node, arguments)
        case Operation.EQUAL:
            return _equal(arguments[0], arguments[1])
        case Operation.SLICE:
            return _slice(node, arguments[0])
        case Operation.CONCAT:
            return _concat(arguments)
    return make(node.operation, node.width, *arguments, data=node.data)


def _gate(node: Expression, arguments: list[Expression]) -> Expression:
    dull, strong = (mask(node.width), 0) if node.operation is Operation.AND else (0, mask(node.width))
    left: list[Expression] = []
    for argument in arguments:
        if argument.operation is Operation.CONSTANT and argument.data == strong:
            return argument
        if not (argument.operation is Operation.CONSTANT and argument.data == dull) and argument not in left:
            left.append(argument)
    if any(inverted(each) in left for each in left):
        return constant(strong, node.width)
    if not left:
        return constant(dull, node.width)
    return left[0] if len(left) == 1 else make(node.operation, node.width, *left)


def _without_zero(node: Expression, arguments: list[Expression]) -> Expression:
    left = [each for each in arguments if not (each.operation is Operation.CONSTANT and each.data == 0)]
    ones = constant(mask(node.width), node.width)
    if node.operation is Operation.XOR and ones in left and len(left) == 2:
        return inverted(next(each for each in left if each is not ones))
    return left[0] if len(left) == 1 else make(node.operation, node.width, *left)


def _case(node: Expression, arguments: list[Expression]) -> Expression:
    select, *values, otherwise = arguments
    assert isinstance(node.data, tuple)
    if select.operation is Operation.CONSTANT:
        return dict(zip(node.data, values, strict=True)).get(_number(select), otherwise)
    possible = [(key, value) for key, value in zip(node.data, values, strict=True) if _may_be(select, key)]
    room = _choices(select)
    alike = {value for _, value in possible} | ({otherwise} if len(possible) < room else set())
    if len(alike) == 1:
        return alike.pop()
    keys = tuple(key for key, _ in possible)
    return make(Operation.CASE, node.width, select, *(value for _, value in possible), otherwise, data=keys)


def _bits(node: Expression) -> list[Expression | None]:
    """Constants of each bit, None where one is open."""
    if node.operation is Operation.CONSTANT:
        return [constant(_number(node) >> bit) for bit in range(node.width)]
    if node.operation is Operation.CONCAT:
        return [bit for argument in node.args for bit in _bits(argument)]
    return [None] * node.width


def _may_be(select: Expression, key: int) -> bool:
    return all(bit is None or bit.data == key >> place & 1 for place, bit in enumerate(_bits(select)))


def _choices(select: Expression) -> int:
    return 1 << sum(bit is None for bit in _bits(select))


def _equal(a: Expression, b: Expression) -> Expression:
    if a is b:
        return constant(1)
    if a.operation is Operation.CONSTANT:
        a, b = b, a
    first, second = _bits(a), _bits(b)
    pairs = list(zip(first, second, strict=True))
    if any(x is not None and y is not None and x is not y for x, y in pairs):
        return constant(0)
    open_places = [place for place, (x, y) in enumerate(pairs) if x is None or y is None]
    if len(open_places) == 1 and second[open_places[0]] is not None:
        bit = bit_of(a, open_places[0])
        wanted = second[open_places[0]]
        assert wanted is not None
        return bit if wanted.data else inverted(bit)
    return _equal_where_open(a, b, open_places) if b.operation is Operation.CONSTANT else make(Operation.EQUAL, 1, a, b)


def _equal_where_open(a: Expression, b: Expression, places: list[int]) -> Expression:
    """Without bits that are known to be equal."""
    if len(places) == a.width:
        return make(Operation.EQUAL, 1, a, b)
    left = _concat([bit_of(a, place) for place in places])
    wanted = sum((_number(b) >> place & 1) << bit for bit, place in enumerate(places))
    return make(Operation.EQUAL, 1, left, constant(wanted, left.width))


def bit_of(node: Expression, place: int) -> Expression:
    if node.operation is Operation.CONCAT:
        for argument in node.args:
            if place < argument.width:
                return bit_of(argument, place)
            place -= argument.width
    return _slice(make(Operation.SLICE, 1, node, data=place), node) if node.width > 1 else node


def _slice(node: Expression, argument: Expression) -> Expression:
    """The bits that a SLICE takes, out of what its argument has become."""
    low, high = _number(node), _number(node) + node.width
    if argument.operation is Operation.CONSTANT:
        return constant(_number(argument) >> low, node.width)
    if argument.operation is Operation.SLICE:
        low, argument = low + _number(argument), argument.args[0]
    elif argument.operation is Operation.CONCAT:
        place = 0
        for each in argument.args:
            if place <= low and high <= place + each.width:
                return _slice(make(Operation.SLICE, node.width, each, data=low - place), each)
            place += each.width
    return argument if argument.width == node.width else make(Operation.SLICE, node.width, argument, data=low)


def _concat(arguments: list[Expression]) -> Expression:
    """Neighbouring slices of one thing become one slice again."""
    joined: list[Expression] = []
    for argument in arguments:
        if joined and _follows(joined[-1], argument):
            joined[-1] = argument.args[0][_number(joined[-1]) : _number(argument) + argument.width]
        else:
            joined.append(argument)
    if len(joined) == 1:
        return joined[0]
    return make(Operation.CONCAT, sum(each.width for each in joined), *joined)


def _follows(before: Expression, argument: Expression) -> bool:
    both_slices = before.operation is argument.operation is Operation.SLICE
    return both_slices and before.args == argument.args and _number(before) + before.width == argument.data


def _number(node: Expression) -> int:
    """The value of a constant, the lowest bit of a slice."""
    assert isinstance(node.data, int)
    return node.data
