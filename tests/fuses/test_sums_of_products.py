"""Sums of products against truth tables: they are the function, and no term of them can be left out.

Outside check: that a cover is irredundant, as S. Minato proves for the recursion (IEICE Transactions 1993), and known
least sizes: 2**(n-1) products for the parity of n variables, one for a product (textbook results).
"""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from latchwork.fuses.functions import ALWAYS, NEVER, Functions, Term, TooLarge, sum_of_products

VARIABLES = 4


def function_of(table: list[int]) -> tuple[Functions, int]:
    store = Functions()
    value = NEVER
    for levels, wanted in zip(product((0, 1), repeat=VARIABLES), table, strict=True):
        term = ALWAYS if wanted else NEVER
        for number, level in enumerate(levels):
            variable = store.variable(number)
            term = store.both(term, variable if level else store.invert(variable))
        value = store.either(value, term)
    return store, value


def holds(terms: list[Term], levels: tuple[int, ...]) -> int:
    return int(any(all(levels[number] == level for number, level in term) for term in terms))


def table_of(terms: list[Term]) -> list[int]:
    return [holds(terms, levels) for levels in product((0, 1), repeat=VARIABLES)]


@given(st.lists(st.integers(0, 1), min_size=16, max_size=16))
def test_a_sum_is_the_function_and_has_no_superfluous_term(table: list[int]) -> None:
    terms = sum_of_products(*function_of(table))
    assert table_of(terms) == table
    for index in range(len(terms)):
        assert table_of(terms[:index] + terms[index + 1 :]) != table


@given(st.lists(st.integers(0, 1), min_size=16, max_size=16))
def test_equal_functions_are_equal_numbers(table: list[int]) -> None:
    store, value = function_of(table)
    again = NEVER
    for term in sum_of_products(store, value):
        part = ALWAYS
        for number, level in term:
            part = store.both(part, store.variable(number) if level else store.invert(store.variable(number)))
        again = store.either(part, again)
    assert again == value
    assert store.invert(store.invert(value)) == value


@pytest.mark.parametrize("count", [1, 2, 5, 8])
def test_parity_needs_half_of_all_products(count: int) -> None:
    store = Functions()
    value = NEVER
    for number in range(count):
        value = store.differ(value, store.variable(number))
    assert len(sum_of_products(store, value)) == 1 << (count - 1)


def test_too_many_products_are_given_up() -> None:
    store = Functions()
    value = NEVER
    for number in range(9):
        value = store.differ(value, store.variable(number))
    with pytest.raises(TooLarge):
        sum_of_products(store, value)


def test_constants() -> None:
    assert sum_of_products(Functions(), NEVER) == []
    assert sum_of_products(Functions(), ALWAYS) == [()]
