"""Names for what is left of an expression: levels, ports, and functions of two numbers found by comparing values."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from random import Random

from latchwork.analysis.one_part.program import nodes
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import evaluate, mask

SAMPLES = 96
LONGEST = 44
Number = Callable[[int, int], int]


def named(expression: Expression) -> str:
    """The expression in few words: "H", "D", "not D", "count plus 1", "A and B"."""
    if expression.operation is Operation.CONSTANT:
        if expression.width == 1:
            return "H" if expression.data else "L"
        full = mask(expression.width)
        return "all H" if expression.data == full else _odd_one(int(expression.data), full)  # type: ignore[arg-type]
    if expression.operation is Operation.NOT and expression.args[0].operation is Operation.VARIABLE:
        return f"not {expression.args[0].data}"
    if expression.operation is Operation.CONCAT and len(infix(expression)) <= LONGEST:
        return infix(expression)
    return _function(expression) or _short(expression)


def _odd_one(value: int, full: int) -> str:
    """A number; in words where one bit of many stands apart, as at the outputs of a decoder."""
    other = full & ~value
    if full > 7 and other.bit_count() == 1:
        return f"bit {other.bit_length() - 1} L, others H"
    return str(value)


def _short(expression: Expression) -> str:
    text = infix(expression)
    if len(text) <= LONGEST:
        return text
    names = sorted({str(node.data) for node in nodes([expression]) if node.operation is Operation.VARIABLE})
    return f"a function of {', '.join(names)}"


def _function(expression: Expression) -> str:
    """A function of one or two numbers as wide as the result, and perhaps a carry, by its values."""
    variables = {str(node.data): node.width for node in nodes([expression]) if node.operation is Operation.VARIABLE}
    reads = any(node.operation is Operation.READ for node in nodes([expression]))
    wide = sorted(name for name, width in variables.items() if width == expression.width)
    carries = [name for name, width in variables.items() if width == 1]
    if reads or expression.width == 1 or len(wide) + len(carries) != len(variables) or not 1 <= len(wide) <= 2:
        return ""
    if not carries:
        return _found(expression, wide, {})
    return _with_carry(expression, wide, carries[0]) if len(carries) == 1 else ""


def _with_carry(expression: Expression, wide: list[str], carry: str) -> str:
    low, high = (_found(expression, wide, {carry: level}) for level in (0, 1))
    if not (low and high):
        return ""
    for less, more, level in ((low, high, "H"), (high, low, "L")):
        if more == f"{less} plus 1":
            return f"{less}, plus 1 where {carry} is {level}"
        if less == f"{more} minus 1":
            return f"{more}, minus 1 where {carry} is {'L' if level == 'H' else 'H'}"
    return f"{high} where {carry} is H, else {low}"


def _found(expression: Expression, wide: list[str], more: dict[str, int]) -> str:
    pairs = _pairs(expression.width)
    values = tuple(evaluate(expression, {**dict(zip(wide, pair, strict=False)), **more}) for pair in pairs)
    text = _library(expression.width).get(values, "")
    return text.replace("@1", wide[0]).replace("@2", wide[-1]) if len(wide) == 2 or "@2" not in text else ""


@cache
def _pairs(width: int) -> tuple[tuple[int, int], ...]:
    random = Random(width)
    return tuple((random.getrandbits(width), random.getrandbits(width)) for _ in range(SAMPLES))


@cache
def _library(width: int) -> dict[tuple[int, ...], str]:
    """Values over the samples -> text; of several texts the first, which is the simplest."""
    found: dict[tuple[int, ...], str] = {}
    for text, function in _candidates(mask(width)):
        found.setdefault(tuple(function(a, b) & mask(width) for a, b in _pairs(width)), text)
    return found


def _candidates(full: int) -> Iterator[tuple[str, Number]]:
    logic: list[tuple[str, Number]] = [
        ("0", lambda a, b: 0),
        ("all H", lambda a, b: full),
        ("@1", lambda a, b: a),
        ("@2", lambda a, b: b),
        ("not @1", lambda a, b: ~a),
        ("not @2", lambda a, b: ~b),
        ("@1 and @2", lambda a, b: a & b),
        ("@1 or @2", lambda a, b: a | b),
        ("@1 xor @2", lambda a, b: a ^ b),
        ("not (@1 and @2)", lambda a, b: ~(a & b)),
        ("not (@1 or @2)", lambda a, b: ~(a | b)),
        ("not (@1 xor @2)", lambda a, b: ~(a ^ b)),
        ("@1 and not @2", lambda a, b: a & ~b),
        ("@2 and not @1", lambda a, b: b & ~a),
        ("@1 or not @2", lambda a, b: a | ~b),
        ("@2 or not @1", lambda a, b: b | ~a),
    ]
    yield from logic
    yield "@1 plus @2", lambda a, b: a + b
    yield "@1 minus @2", lambda a, b: a - b
    yield "@2 minus @1", lambda a, b: b - a
    yield "@1 minus @2 minus 1", lambda a, b: a - b - 1
    yield "@2 minus @1 minus 1", lambda a, b: b - a - 1
    yield "@1 plus @1", lambda a, b: a + a
    for step in (1, 2):
        yield f"@1 plus {step}", lambda a, b, step=step: a + step  # type: ignore[misc]
        yield f"@1 minus {step}", lambda a, b, step=step: a - step  # type: ignore[misc]
    for text, function in logic[2:]:
        for other, second in logic[2:]:
            yield f"{_grouped(text)} plus {_grouped(other)}", _sum(function, second, 0)
            yield f"{_grouped(text)} plus {_grouped(other)} plus 1", _sum(function, second, 1)
        yield f"{_grouped(text)} plus 1", _sum(function, lambda a, b: 0, 1)
        yield f"{_grouped(text)} minus 1", _sum(function, lambda a, b: 0, -1)


def _sum(first: Number, second: Number, more: int) -> Number:
    return lambda a, b: first(a, b) + second(a, b) + more


def _grouped(text: str) -> str:
    return f"({text})" if " " in text and not text.startswith("not (") else text


_JOINED = {
    Operation.AND: " and ",
    Operation.OR: " or ",
    Operation.XOR: " xor ",
    Operation.ADD: " plus ",
    Operation.CONCAT: ", ",
}


def infix(node: Expression) -> str:
    """The expression as a person would write it; numbers in square brackets are bits, lowest 0."""
    match node.operation:
        case Operation.CONSTANT:
            return str(node.data) if node.width > 1 else ("H" if node.data else "L")
        case Operation.VARIABLE:
            return str(node.data)
        case Operation.NOT:
            return f"not {_inner(node.args[0])}"
        case Operation.SLICE:
            low = int(node.data)  # type: ignore[arg-type]
            places = str(low) if node.width == 1 else f"{low}..{low + node.width - 1}"
            return f"{_inner(node.args[0])}[{places}]"
        case Operation.READ:
            return f"{node.data} at {infix(node.args[0])}"
        case Operation.MUX:
            select, yes, no = node.args
            return f"{_inner(yes)} if {_inner(select)} else {_inner(no)}"
        case Operation.REPLICATE:
            return f"{node.width} times {_inner(node.args[0])}"
        case Operation.EQUAL:
            return f"{_inner(node.args[0])} = {_inner(node.args[1])}"
        case Operation.LESS:
            return f"{_inner(node.args[0])} < {_inner(node.args[1])}"
        case Operation.CASE:
            return f"one of {len(node.args) - 1} by {_inner(node.args[0])}"
    return _JOINED[node.operation].join(_inner(argument) for argument in node.args)


def _inner(node: Expression) -> str:
    text = infix(node)
    return f"({text})" if " " in text else text
