"""Fan-outs of textbooks, as the rule for overloads finds them: so many inputs are in order, one more is not.

Sources: TTL to TTL 10, LS to LS 20, LS to TTL 5, TTL to LS 20 (textbook tables of logic families), HC to LS 10 (makers'
data books: ten LSTTL loads), bus drivers of HC to LS 15; HC to TTL 2 follows from 4 mA and 1.6 mA.
"""

import pytest

from latchwork import LOW, Machine
from latchwork.model import Model
from latchwork.tools.rules.checking import check


def machine(gives: str, takes: str, count: int, tmp_path) -> Model:  # type: ignore[no-untyped-def]
    m = Machine("loads", family="HCT")
    y = m.net("y")
    if gives.endswith("541"):
        m.chip(gives, A=[LOW] * 8, G1_n=LOW, G2_n=LOW, Y=[y, *(m.net(f"free{number}") for number in range(7))])
    else:
        m.chip(gives, A1=LOW, Y1=y)
    for number in range(count):
        m.chip(takes, label=f"n{number}", A1=y)
    return Model(tmp_path, m.netlist())


@pytest.mark.parametrize(
    ("gives", "takes", "most"),
    [
        ("7404", "7404", 10),
        ("74LS04", "74LS04", 20),
        ("74LS04", "7404", 5),
        ("7404", "74LS04", 20),
        ("74HC04", "74LS04", 10),
        ("74HC541", "74LS04", 15),
        ("74HC04", "7404", 2),
    ],
)
def test_fan_out(gives: str, takes: str, most: int, tmp_path) -> None:  # type: ignore[no-untyped-def]
    for count, loud in ((most, False), (most + 1, True)):
        report = check(machine(gives, takes, count, tmp_path))
        assert any(problem.code == "W301" for problem in report.problems) == loud


def test_cmos_drives_as_many_cmos_inputs_as_there_are(tmp_path) -> None:  # type: ignore[no-untyped-def]
    """Direct currents do not bound it (textbooks: more than 50); capacitance does, which timing counts."""
    report = check(machine("74HC04", "74HC04", 60, tmp_path))
    assert all(problem.code != "W301" for problem in report.problems)
