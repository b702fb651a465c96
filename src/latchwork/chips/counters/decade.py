"""The steps of synchronous decade counters, also out of the states above nine that they only meet at power-up."""

from __future__ import annotations

from latchwork.logic import Expression, case, constant, mux


def ten_up(count: Expression) -> Expression:
    """Up by one, 9 to 0. Above nine by the toggle conditions of the sheets' logic diagrams (from memory): B with A
    and not D, C with A and B, D with A and D or with A, B and C: 11 to 6, 13 to 4, 15 to 2."""
    return case(count, {at: constant(to, 4) for at, to in ((9, 0), (11, 6), (13, 4), (15, 2))}, count + 1)


def ten_down(count: Expression) -> Expression:
    """Down by one, 0 to 9; from above nine one by one."""
    return mux(count.equals(0), constant(9, 4), count - 1)
