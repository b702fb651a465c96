"""Bit-vector expressions: the one way in which a chip's behaviour is written."""

from latchwork.logic.expression import (
    Expression,
    Operation,
    all_of,
    any_of,
    case,
    concat,
    constant,
    mux,
    parity,
    read,
    variable,
)

__all__ = [
    "Expression",
    "Operation",
    "all_of",
    "any_of",
    "case",
    "concat",
    "constant",
    "mux",
    "parity",
    "read",
    "variable",
]
