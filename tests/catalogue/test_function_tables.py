"""Function tables worked out from behaviours, against those of data sheets, and against the behaviours themselves."""

from __future__ import annotations

import pytest

from latchwork.chips import catalogue
from latchwork.chips.catalogue import find
from latchwork.logic import case, concat, constant, mux, variable
from latchwork.logic.evaluate import evaluate
from latchwork.parts import Floating
from latchwork.reports.catalogue import FunctionTable
from latchwork.tools.catalogue.function_table import MOST_ROWS, function_tables
from latchwork.tools.catalogue.naming import named
from latchwork.tools.catalogue.simplify import simplified


def table_of(name: str, title: str) -> FunctionTable:
    return next(table for table in function_tables(find(name)) if table.title == title)


def test_a_nand_gate() -> None:
    table = table_of("74HC00", "Y1")
    assert table.heads == ("1A", "1B", "Y1")
    assert table.rows == (("L", "x", "H"), ("H", "L", "H"), ("H", "H", "L"))
    assert table.likewise == ("Y2", "Y3", "Y4")


def test_a_counter() -> None:
    """Rows of the ON MC74HC161A function table."""
    table = table_of("74HC161", "Q")
    assert table.heads == ("/CLR", "ENP", "ENT", "/LOAD", "clock", "Q becomes")
    assert set(table.rows) == {
        ("L", "x", "x", "x", "x", "0, at once"),
        ("H", "x", "x", "L", "CLK rises", "P"),
        ("H", "L", "x", "H", "CLK rises", "held"),
        ("H", "H", "L", "H", "CLK rises", "held"),
        ("H", "H", "H", "H", "CLK rises", "Q plus 1"),
    }


def test_a_decoder() -> None:
    """NXP 74HC138 function table: enables first, then one output low for each code."""
    rows = table_of("74HC138", "Y").rows
    assert [row[-1] for row in rows if "x" not in row] == [f"Y{code} L, others H" for code in range(8)]
    assert all(row[-1] == "all H" for row in rows if "x" in row)


LOGIC = {
    "LLLL": "not A", "LLLH": "not (A or B)", "LLHL": "B and not A", "LLHH": "0", "LHLL": "not (A and B)",
    "LHLH": "not B", "LHHL": "A xor B", "LHHH": "A and not B", "HLLL": "B or not A", "HLLH": "not (A xor B)",
    "HLHL": "B", "HLHH": "A and B", "HHLL": "all H", "HHLH": "A or not B", "HHHL": "A or B", "HHHH": "A",
}  # fmt: skip


def test_the_slice_of_an_arithmetic_unit() -> None:
    """The sixteen logic functions, and the best known sums, of the 181's sheet for active-high data (SDLS136, from
    memory): S = 1001 adds, S = 0110 subtracts, S = 1100 doubles, S = 0000 passes or increments."""
    table = next(table for table in function_tables(find("74LS181")) if "F" in table.heads)
    rows = {("".join(row[1:5]), row[0]): row[table.heads.index("F")] for row in table.rows}
    assert table.heads[:5] == ("M", "S3", "S2", "S1", "S0")
    assert {select: rows[select, "H"] for select in LOGIC} == LOGIC
    assert rows["HLLH", "L"] == "A plus B, plus 1 where Cn is L"
    assert rows["LHHL", "L"] == "A minus B, minus 1 where Cn is H"
    assert rows["HHLL", "L"] == "A plus A, plus 1 where Cn is L"
    assert rows["LLLL", "L"] == "A, plus 1 where Cn is L"


def test_a_buffer_that_lets_go() -> None:
    """Philips 74HC245 function table."""
    rows = table_of("74HC245", "A, B").rows
    assert set(rows) == {("L", "L", "B", "let go"), ("H", "L", "let go", "A"), ("x", "H", "let go", "let go")}


@pytest.mark.parametrize("entry", catalogue.entries(), ids=lambda entry: entry.name_in(entry.families[0]))
def test_every_part_has_readable_tables(entry) -> None:
    """Each has as many cells as heads, few enough rows, and something to say."""
    tables = function_tables(entry.in_family(entry.families[0], Floating.UNKNOWN))
    for table in tables:
        assert 0 < len(table.rows) <= MOST_ROWS
        assert all(len(row) == len(table.heads) for row in table.rows)
        assert all(all(row) for row in table.rows)
    states = (*entry.behaviour.drives, *entry.behaviour.registers, *entry.behaviour.latches)
    assert bool(tables) == bool(states or entry.behaviour.memories)


def test_simplifying_keeps_values() -> None:
    """A mixed expression, over all levels of what is left, with each control known."""
    a, s, e = variable("a", 3), variable("s"), variable("e")
    tried = mux(e, case(concat(s, e), {0: a, 1: ~a, 3: a + 1}, constant(5, 3)), concat(s, a[0:2]) & constant(6, 3))
    for level in (0, 1):
        for known in ({"s": level}, {"e": level}, {"s": level, "e": 1 - level}):
            left = simplified(tried, known)
            for value in range(32):
                levels = {"a": value & 7, "s": value >> 3 & 1, "e": value >> 4} | known
                assert evaluate(left, levels) == evaluate(tried, levels)


@pytest.mark.parametrize(
    ("expression", "text"),
    [
        (constant(1), "H"),
        (constant(0), "L"),
        (constant(15, 4), "all H"),
        (~variable("D", 8), "not D"),
        (variable("P", 4) + variable("Q", 4), "P plus Q"),
        (variable("P", 4) - variable("Q", 4), "P minus Q"),
        (variable("count", 4) + 15, "count minus 1"),
        (concat(variable("SER"), variable("stages", 8)[0:7]), "SER, stages[0..6]"),
    ],
)
def test_names(expression, text: str) -> None:
    assert named(expression) == text
