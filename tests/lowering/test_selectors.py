"""A condition that reaches the lines through a selector: it gates a load, or the clear of the step counter."""

from __future__ import annotations

from pathlib import Path

import pytest
from turnstone import MACHINE, MICRO, complaint, lowered, written

from latchwork.analysis.settle import Combinational
from latchwork.model import ControlProgram, Row
from latchwork.netlist import Netlist

# `last` clears the counter where its bit is set and, unless `extra` lets it through, zero holds.
GATED = (
    MACHINE.replace("D=[*code, opcode_take_n, last_n,", "D=[*code, opcode_take_n, end,")
    .replace('spare = m.net("spare")', 'spare = m.net("spare")\nend = m.net("end")\nalways = m.net("always")')
    .replace("D=[extra, *[OPEN] * 7]", "D=[extra, always, *[OPEN] * 6]")
    .replace(
        'more = m.line("extra_more")',
        'm.gate("nand", end, m.gate("or", zero, always), out=last_n)\nmore = m.line("extra_more")',
    )
)
EARLY = MICRO.replace("    two_show, alu = plus, flags_take, last\n",
                      "    when zero  last\n    otherwise  nothing\n    two_show, alu = plus, last\n")  # fmt: skip


def level(program: ControlProgram, netlist: Netlist, row: Row, line: str, **nets: int) -> int:
    """A line while a row is looked up, under levels of other nets."""
    given = {net: row.word >> bit & 1 for bit, net in enumerate(program.word_nets)}
    given |= {netlist.net_named[name]: value for name, value in nets.items()}
    at = netlist.line_named[line].net
    value, known = Combinational(netlist).values([at], given)[at]
    assert known
    return value


def rows(program: ControlProgram, block: str) -> list[Row]:
    return [row for row in program.rows if row.block == block]


def test_a_flag_gates_a_line(tmp_path: Path) -> None:
    netlist = written(tmp_path).netlist
    program = lowered(tmp_path)
    (row,) = rows(program, "jump")
    assert row.conditions == ()
    assert [level(program, netlist, row, "jump", zero=zero) for zero in (0, 1)] == [0, 1]
    assert [level(program, netlist, row, "last", zero=zero) for zero in (0, 1)] == [0, 0]


def test_a_flag_gates_the_end_of_an_instruction(tmp_path: Path) -> None:
    netlist = written(tmp_path, GATED, EARLY).netlist
    program = lowered(tmp_path, GATED, EARLY)
    first, second = rows(program, "add")
    assert [level(program, netlist, first, "last", zero=zero) for zero in (0, 1)] == [1, 0]
    assert [level(program, netlist, second, "last", zero=zero) for zero in (0, 1)] == [0, 0]


def test_steps_after_an_end_that_always_comes_are_not_reached(tmp_path: Path) -> None:
    text = EARLY.replace("    when zero  last\n    otherwise  nothing\n", "    last\n")
    assert complaint(written(tmp_path, GATED, text)).startswith("U231 step 2 of `add` is never reached")


def test_a_condition_at_the_address_is_chosen_there(tmp_path: Path) -> None:
    netlist = written(tmp_path).netlist
    program = lowered(tmp_path)
    found = {row.conditions: row for row in rows(program, "skip") if row.conditions}
    assert set(found) == {(("carry", 0),), (("carry", 1),)}
    taken = found[(("carry", 1),)]
    other = found[(("carry", 0),)]
    assert [level(program, netlist, row, "three_show") for row in (taken, other)] == [0, 1]
    assert [level(program, netlist, row, "two_show") for row in (taken, other)] == [1, 0]


@pytest.mark.parametrize("pin", ["A=address", "A=address[::-1]"])
def test_the_order_of_address_pins_plays_no_part(pin: str, tmp_path: Path) -> None:
    program = lowered(tmp_path, MACHINE.replace('label="low", A=address', f'label="low", {pin}'))
    assert program.rows == lowered(tmp_path).rows
