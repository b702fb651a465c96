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
    expression, rest = _node(tokens, 0)
    if rest != len(tokens):
        raise ValueError(f"text after the end of the expression: {' '.join(tokens[rest:])}")
    return expression


def _node(tokens: list[str], at: int) -> tuple[Expression, int]:
    if at >= len(tokens):
        raise ValueError("the expression breaks off")
    if tokens[at] != "(":
        return _leaf(tokens[at]), at + 1
    head, _, data = tokens[at + 1].partition(":")
    if head not in _NAMES:
        raise ValueError(f'"{head}" is no operation')
    width, at = int(tokens[at + 2]), at + 3
    arguments = []
    while at < len(tokens) and tokens[at] != ")":
        argument, at = _node(tokens, at)
        arguments.append(argument)
    return make(_NAMES[head], width, *arguments, data=_data_read(_NAMES[head], data)), at + 1


def _leaf(token: str) -> Expression:
    name, _, width = token.rpartition("/")
    return constant(int(name[1:]), int(width)) if name.startswith("'") else variable(name, int(width))


def _data_read(operation: Operation, data: str) -> Data:
    if operation is Operation.CASE:
        return tuple(int(key) for key in data.split(","))
    if operation is Operation.SLICE:
        return int(data)
    return data or None
