"""Meanings and conditions against Python, whose operators and precedence they share (common practice)."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.languages.microprogram import meaning as m
from latchwork.languages.microprogram.parse import parse_microprogram

VALUES = {"a": 5, "b": 3, "c": 0}
OPERATIONS = {
    "+": lambda x, y: x + y,
    "-": lambda x, y: x - y,
    "*": lambda x, y: x * y,
    "&": lambda x, y: x & y,
    "|": lambda x, y: x | y,
    "^": lambda x, y: x ^ y,
    "==": lambda x, y: x == y,
    "!=": lambda x, y: x != y,
    "<": lambda x, y: x < y,
    "<=": lambda x, y: x <= y,
    ">": lambda x, y: x > y,
    ">=": lambda x, y: x >= y,
    "and": lambda x, y: x and y,
    "or": lambda x, y: x or y,
}
UNARY = {"-": lambda x: -x, "~": lambda x: ~int(x), "not": lambda x: not x}


def value(node: m.Value) -> int:
    match node:
        case m.Number(number):
            return number
        case m.Name(text):
            return VALUES[text]
        case m.Unary(operator, inner):
            return UNARY[operator](value(inner))
        case m.Binary(operator, left, right):
            return OPERATIONS[operator](value(left), value(right))
        case m.Choose(condition, then, otherwise):
            return value(then) if value(condition) else value(otherwise)
        case _:
            raise AssertionError(node)


def joined(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    arithmetic = st.tuples(parts, st.sampled_from(["+", "-", "*", "&", "|", "^"]), parts).map(" ".join)
    logic = st.tuples(parts, st.sampled_from(["and", "or"]), parts).map(" ".join)
    compared = st.tuples(parts, st.sampled_from(["==", "!=", "<", "<=", ">", ">="]), parts).map(
        lambda p: f"({' '.join(p)})"
    )
    unary = st.tuples(st.sampled_from(["-", "~"]), parts).map(lambda p: f"{p[0]}({p[1]})")
    negated = parts.map(lambda part: f"(not {part})")
    chosen = st.tuples(parts, parts, parts).map(lambda p: f"({p[0]} if {p[1]} else {p[2]})")
    return arithmetic | logic | compared | unary | negated | chosen | parts.map(lambda part: f"({part})")


EXPRESSIONS = st.recursive(st.sampled_from(["a", "b", "c", "0", "7", "0x1f", "0b101"]), joined, max_leaves=12).filter(
    lambda text: len(text) < 300
)


@settings(max_examples=200, deadline=None)
@given(EXPRESSIONS)
def test_values_are_read_as_python_reads_them(text: str) -> None:
    (statement,) = m.parse_meaning(f"a = {text}")
    assert isinstance(statement, m.Assign)
    assert value(statement.value) == eval(text, {}, dict(VALUES))


def test_statements() -> None:
    first, second = m.parse_meaning(
        "acc, carry = acc + n;  if carry: ram[sp + 1] = pc.low; x[7:4] = 1 else: a = signed(b)"
    )
    assert [target.text for target in first.targets] == ["acc", "carry"]
    assert isinstance(second, m.If)
    assert [type(each.targets[0]) for each in second.then] == [m.Cell, m.Slice]
    assert isinstance(second.otherwise[0].value, m.Call)
    assert m.parse_meaning("nothing") == ()
    assert len(m.parse_meaning("a = 1\nb = 2")) == 2


CONDITIONS = st.recursive(
    st.sampled_from(["carry", "zero", "sign"]),
    lambda parts: (
        st.tuples(parts, st.sampled_from(["and", "or"]), parts).map(lambda p: f"({' '.join(p)})")
        | parts.map(lambda part: f"not {part}")
    ),
    max_leaves=6,
)


@settings(max_examples=200, deadline=None)
@given(CONDITIONS)
def test_branches_are_disjoint_and_hold_as_python_says(condition: str) -> None:
    flags = ("carry", "zero", "sign")
    cases = [dict(zip(flags, case, strict=True)) for case in product((0, 1), repeat=3)]
    truth = [bool(eval(condition, {}, dict(case))) for case in cases]
    if len(set(truth)) < 2:
        return  # never or always: refused, a case among the mistakes
    text = f"entry interrupt\n    when {condition}  yes\n    otherwise  no\n"
    (step,) = parse_microprogram(text).blocks[0].steps
    for case, wanted in zip(cases, truth, strict=True):
        true = [b for b in step.branches if all(case[name] == level for name, level in b.conditions)]
        assert [setting.name for branch in true for setting in branch.settings] == ["yes" if wanted else "no"]
