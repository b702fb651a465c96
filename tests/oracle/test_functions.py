"""Generated functions against the plain evaluator, and what the plain evaluator calls known against all choices."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork.chips.catalogue import entries
from latchwork.engines.oracle.functions import Function, drive_function, pair_function
from latchwork.engines.oracle.wiring import state_names
from latchwork.logic import Expression, Operation, case, concat, constant, mux, read, variable
from latchwork.logic.evaluate import Known, evaluate, evaluate_known, mask
from latchwork.logic.expression import make
from latchwork.parts import Behaviour, Drive, OutputKind

WIDTHS = {"A": 1, "B": 4, "C": 4, "held": 4, "flag": 1, "W": 8}
STATES = frozenset({"held", "flag"})
CELLS = [(address * 37 + 11) & 15 for address in range(16)]
LOST = {3, 4, 12}  # cells of which nothing is known


class Memory(list[Any]):
    def peek(self, address: int) -> Any:
        return self[address]


@st.composite
def expressions(draw: st.DrawFn, width: int, depth: int) -> Expression:
    """Any expression of a width over the variables above."""
    leaves = [variable(name, w) for name, w in WIDTHS.items() if w == width] + [
        constant(draw(st.integers(0, 255)), width)
    ]
    if depth == 0:
        return draw(st.sampled_from(leaves))

    def inner(inner_width: int) -> Expression:
        return draw(expressions(inner_width, depth - 1))

    choice = draw(st.integers(0, 11))
    if choice in (0, 1, 2):
        operation = (Operation.AND, Operation.OR, Operation.XOR)[choice]
        return make(operation, width, *(inner(width) for _ in range(draw(st.integers(2, 3)))))
    if choice == 3:
        return ~inner(width)
    if choice == 4:
        return make(Operation.ADD, width, *(inner(width) for _ in range(draw(st.integers(2, 3)))))
    if choice == 5:
        return mux(inner(1), inner(width), inner(width))
    if choice == 6:
        wide = inner(width + draw(st.integers(1, 3)))
        low = draw(st.integers(0, wide.width - width))
        return wide[low : low + width]
    if choice == 7 and width > 1:
        cut = draw(st.integers(1, width - 1))
        return concat(inner(cut), inner(width - cut))
    if choice == 8 and width == 1:
        a, b = inner(3), inner(3)
        return a.equals(b) if draw(st.booleans()) else a.less_than(b)
    if choice == 9:
        keys = draw(st.lists(st.integers(0, 7), min_size=1, max_size=5, unique=True))
        return case(inner(3), {key: inner(width) for key in keys}, inner(width))
    if choice == 10 and width == 4:
        return read("cells", inner(4), 4)
    return inner(1).repeat(width)


@st.composite
def pairs(draw: st.DrawFn) -> dict[str, Known]:
    values = {}
    for name, width in WIDTHS.items():
        known = draw(st.integers(0, mask(width)))
        values[name] = draw(st.integers(0, mask(width))) & known, known
    return values


any_expression = st.integers(1, 5).flatmap(lambda width: expressions(width, 3))


def called(function: Function, values: dict[str, Known], cells: Memory) -> Any:
    """Lay the values out as the function wants them and call it."""
    bits, known, states, certain, places = [], [], [], [], []
    for place in function.layout:
        value, mask_ = values.get(place.name, (0, 0))
        if place.kind == "port":
            places.append(len(bits))
            bits.append(value >> place.bit & 1)
            known.append(mask_ >> place.bit & 1)
        elif place.kind == "state":
            places.append(len(states))
            states.append(value)
            certain.append(mask_)
        else:
            places.append(0)
    return function.call((bits, known, states, certain, [cells]), tuple(places))


@settings(max_examples=400, deadline=None)
@given(any_expression, pairs())
def test_the_plain_function_equals_the_evaluator(expression: Expression, values: dict[str, Known]) -> None:
    function = pair_function(expression, STATES, known=False)
    plain = {name: value for name, (value, _) in values.items()}
    found = called(function, values, Memory(CELLS))
    assert found == (evaluate(expression, plain, {"cells": CELLS.__getitem__}), mask(expression.width))


@settings(max_examples=400, deadline=None)
@given(any_expression, pairs())
def test_the_known_function_equals_the_evaluator(expression: Expression, values: dict[str, Known]) -> None:
    cells = Memory([(0, 0) if a in LOST else (value, 15) for a, value in enumerate(CELLS)])

    def reader(address: Known) -> Known:
        choices = [cells[a] for a in range(16) if not (a ^ address[0]) & address[1]]
        known = 15
        for bits, certain in choices:
            known &= certain & ~(bits ^ choices[0][0])
        return choices[0][0] & known, known

    function = pair_function(expression, STATES, known=True)
    assert called(function, values, cells) == evaluate_known(expression, values, {"cells": reader})


@settings(max_examples=200, deadline=None)
@given(expressions(3, 2), st.none() | expressions(1, 2), st.sampled_from(OutputKind), pairs(), st.booleans())
def test_a_drive_says_what_each_pin_may_carry(
    value: Expression, enable: Expression | None, kind: OutputKind, values: dict[str, Known], known: bool
) -> None:
    if kind is OutputKind.OPEN_COLLECTOR:
        enable = None
    if not known:
        values = {name: (bits, mask(WIDTHS[name])) for name, (bits, _) in values.items()}
    cells = Memory([(cell, 15) for cell in CELLS] if known else CELLS)
    low, high, off = called(drive_function(value, enable, kind, STATES, known), values, cells)
    readers = {"cells": lambda address: (CELLS[address[0]], 15) if address[1] == 15 else (0, 0)}
    bits, certain = evaluate_known(value, values, readers)
    on = evaluate_known(enable, values, readers) if enable is not None else (1, 1)
    for bit in range(3):
        may = [level for level in (0, 1) if not (certain >> bit & 1) or (bits >> bit & 1) == level]
        expected = (low >> bit & 1, high >> bit & 1, off >> bit & 1)
        assert expected != (0, 0, 0)
        if kind is OutputKind.OPEN_COLLECTOR:
            assert expected == (int(0 in may), 0, int(1 in may)) or "cells" in repr((value, enable))
        elif on == (0, 1):
            assert expected == (0, 0, 1)
        elif on == (1, 1):
            assert expected == (int(0 in may), int(1 in may), 0) or "cells" in repr((value, enable))


def behaviours() -> list[tuple[str, Behaviour, frozenset[str]]]:
    return [
        (entry.number, part.behaviour, state_names(part))
        for entry in entries()
        for family in entry.families[:1]
        for part in [entry.in_family(family, None)]  # type: ignore[arg-type]
    ]


@pytest.mark.parametrize(("number", "behaviour", "states"), behaviours(), ids=lambda value: str(value)[:12])
def test_every_expression_of_the_catalogue_can_be_written(
    number: str, behaviour: Behaviour, states: frozenset[str]
) -> None:
    for drive in behaviour.drives:
        for known in (False, True):
            function = drive_function(drive.value, drive.enable, drive.kind, states, known)
            assert function.call.__code__.co_argcount == 2
    assert all(isinstance(drive, Drive) for drive in behaviour.drives)
