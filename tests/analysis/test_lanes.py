"""Many cases at once against one at a time: ``logic.evaluate`` with every choice of what is unknown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.analysis.lanes import Lanes, Sliced, variables
from latchwork.logic import Expression, case, concat, constant, mux, read, variable
from latchwork.logic.evaluate import evaluate, evaluate_known

WIDTH = 3
CELLS = [5, 0, 7, 2, 1, 6, 3, 4]
NAMES = ("a", "b", "c")


def step(parts: st.SearchStrategy[Expression]) -> st.SearchStrategy[Expression]:
    two = st.tuples(parts, parts)
    return st.one_of(
        parts.map(lambda e: ~e),
        two.map(lambda p: p[0] & p[1]),
        two.map(lambda p: p[0] | p[1]),
        two.map(lambda p: p[0] ^ p[1]),
        two.map(lambda p: p[0] + p[1]),
        two.map(lambda p: p[0] - p[1]),
        two.map(lambda p: p[0].equals(p[1]).repeat(WIDTH)),
        two.map(lambda p: concat(p[0].less_than(p[1]), p[1][0:2])),
        two.map(lambda p: concat(p[0][1:3], p[1][0])),
        st.tuples(parts, parts, parts).map(lambda p: mux(p[0][0], p[1], p[2])),
        st.tuples(parts, parts, parts).map(lambda p: case(p[0], {2: p[1], 5: p[2]}, p[0])),
        st.tuples(parts, parts).map(lambda p: case(p[0][0:1], {0: p[1], 1: p[0]}, p[1])),
        parts.map(lambda e: read("cells", e, WIDTH)),
    )


leaves = st.one_of(
    st.sampled_from(NAMES).map(lambda n: variable(n, WIDTH)), st.integers(0, 7).map(lambda v: constant(v, WIDTH))
)
expressions = st.recursive(leaves, step, max_leaves=6)
knowns = st.tuples(st.integers(0, 7), st.integers(0, 7)).map(lambda p: (p[0] & p[1], p[1]))


class Values:
    """Lane i has the values of case i."""

    def __init__(self, cases: Sequence[dict[str, tuple[int, int]]]) -> None:
        self.cases = cases

    def variable(self, name: str, bit: int) -> Lanes:
        ones = sum((c[name][0] >> bit & 1) << lane for lane, c in enumerate(self.cases))
        zeros = sum((~c[name][0] & c[name][1]) >> bit & 1 and 1 << lane for lane, c in enumerate(self.cases))
        return ones, zeros

    def memory(self, read: Expression, address: Callable[[], Sequence[Lanes]], bit: int) -> Lanes:
        ones = zeros = 0
        bits = address()
        for lane in range(len(self.cases)):
            if all((one | zero) >> lane & 1 for one, zero in bits):
                word = CELLS[sum((one >> lane & 1) << at for at, (one, _) in enumerate(bits))]
                ones |= (word >> bit & 1) << lane
                zeros |= (~word >> bit & 1) << lane
        return ones, zeros


def completions(known: tuple[int, int]) -> list[int]:
    return [value for value in range(8) if value & known[1] == known[0]]


@settings(max_examples=150, deadline=None)
@given(expressions, st.lists(st.fixed_dictionaries(dict.fromkeys(NAMES, knowns)), min_size=1, max_size=4))
def test_what_is_known_holds_for_every_choice(expression: Expression, cases: list[dict[str, tuple[int, int]]]) -> None:
    sliced = Sliced((1 << len(cases)) - 1, Values(cases))
    for bit in range(WIDTH):
        ones, zeros = sliced.bit(expression, bit)
        assert not ones & zeros
        for lane, known in enumerate(cases):
            choices = product(*(completions(known[name]) for name in NAMES))
            levels = {
                evaluate(expression, dict(zip(NAMES, values, strict=True)), {"cells": CELLS.__getitem__}) >> bit & 1
                for values in choices
            }
            if ones >> lane & 1:
                assert levels == {1}
            elif zeros >> lane & 1:
                assert levels == {0}
            else:
                assert all(known[name][1] == 7 for name in NAMES) is False


@settings(max_examples=100, deadline=None)
@given(expressions, st.fixed_dictionaries(dict.fromkeys(NAMES, knowns)))
def test_it_knows_no_less_than_the_plain_evaluator(expression: Expression, known: dict[str, tuple[int, int]]) -> None:
    def cells(address: tuple[int, int]) -> tuple[int, int]:
        return (CELLS[address[0]], 7) if address[1] == 7 else (0, 0)

    sliced = Sliced(1, Values([known]))
    bits, mask = evaluate_known(expression, known, {"cells": cells})
    for bit in range(WIDTH):
        if mask >> bit & 1:
            assert sliced.bit(expression, bit) == ((1, 0) if bits >> bit & 1 else (0, 1))


def test_variables_count_through_the_lanes() -> None:
    found = variables(4)
    for lane in range(16):
        assert [ones >> lane & 1 for ones, _ in found] == [lane >> bit & 1 for bit in range(4)]
        assert [zeros >> lane & 1 for _, zeros in found] == [~lane >> bit & 1 for bit in range(4)]
