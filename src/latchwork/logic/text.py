"""The text form of expressions: ``(and A (not (slice:0 1 B)))``; written and read back unchanged.

A node is ``(operation[:data] width argument ...)``; a variable is ``name/width``, a constant ``'value/width``.
"""

from __future__ import annotations

import re

from latchwork.logic.expression import Data, Expression, Operation, constant, make, variable

_TOKEN = re.compile(r"\s*(\(|\)|[^\s()]+)")
_NAMES = {operation.value: operation for operation in Operation}


def written(expression: Expression) -> str:
    """The text form. Shared nodes are written out each time."""
    if expression.operation is Operation.CONSTANT:
        return f"'{expression.data}/{expression.width}"
    if expression.operation is Operation.VARIABLE:
        return f"{expression.data}/{expression.width}"
    arguments = " ".join(written(argument) for argument in expression.args)
    return f"({expression.operation.value}{_data(expression.data)} {expression.width} {arguments})"


def _data(data: Data) -> str:
    if data is None:
        return ""
    return ":" + (",".join(str(key) for key in data) if isinstance(data, tuple) else str(data))


def parsed(text: str) -> Expression:
    """The expression that ``text`` describes. Raises ValueError where it is none."""
    tokens = _TOKEN.findall(text)
    try:
        expression, rest = _node(tokens, 0)
    except RecursionError:
        raise ValueError("the expression is nested too deeply") from None
    if rest != len(tokens):
        raise ValueError(f"text after the end of the expression: {' '.join(tokens[rest:])}")
    return expression


def _node(tokens: list[str], at: int) -> tuple[Expression, int]:
    if at >= len(tokens):
        raise ValueError("the expression breaks off")
    if tokens[at] != "(":
        return _leaf(tokens[at]), at + 1
    if at + 2 >= len(tokens):
        raise ValueError("the expression breaks off after its bracket")
    head, _, data = tokens[at + 1].partition(":")
    if head not in _NAMES:
        raise ValueError(f'"{head}" is no operation')
    width, at = int(tokens[at + 2]), at + 3
    arguments: list[Expression] = []
    while at < len(tokens) and tokens[at] != ")":
        argument, at = _node(tokens, at)
        arguments.append(argument)
    if at >= len(tokens):
        raise ValueError("a closing bracket is missing")
    return _checked(_NAMES[head], width, arguments, _data_read(_NAMES[head], data)), at + 1


def _checked(operation: Operation, width: int, args: list[Expression], data: Data) -> Expression:
    """The node, if its arguments have the number and the widths that the operation asks for."""
    widths = [argument.width for argument in args]
    if not _fits(operation, width, widths, data):
        raise ValueError(f"({operation.value} {width}) does not take arguments of the widths {widths}")
    return make(operation, width, *args, data=data)


def _fits(operation: Operation, width: int, widths: list[int], data: Data) -> bool:
    match operation:
        case Operation.NOT:
            return widths == [width]
        case Operation.AND | Operation.OR | Operation.XOR | Operation.ADD:
            return len(widths) >= 2 and set(widths) == {width}
        case Operation.MUX:
            return widths == [1, width, width]
        case Operation.CONCAT:
            return len(widths) >= 2 and sum(widths) == width
        case Operation.SLICE:
            return len(widths) == 1 and isinstance(data, int) and data >= 0 and 0 < width <= widths[0] - data
        case Operation.REPLICATE:
            return widths == [1] and width > 0
        case Operation.EQUAL | Operation.LESS:
            return width == 1 and len(widths) == 2 and widths[0] == widths[1]
        case Operation.CASE:
            return isinstance(data, tuple) and len(widths) == len(data) + 2 and set(widths[1:]) == {width}
        case Operation.READ:
            return len(widths) == 1 and isinstance(data, str) and width > 0
        case _:
            return False


def _leaf(token: str) -> Expression:
    name, _, width = token.rpartition("/")
    if not name or int(width) <= 0:
        raise ValueError(f'"{token}" is no name or number with its width')
    return constant(int(name[1:]), int(width)) if name.startswith("'") else variable(name, int(width))


def _data_read(operation: Operation, data: str) -> Data:
    if operation is Operation.CASE:
        return tuple(int(key) for key in data.split(","))
    if operation is Operation.SLICE:
        return int(data)
    return data or None
