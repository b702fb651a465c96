"""The wiring of the example machines: nothing to find as it stands, and the right thing once a wire is wrong."""

from pathlib import Path

import pytest

from latchwork.load.machine import read_machine
from latchwork.model import Model
from latchwork.tools.rules.checking import check

ROOT = Path(__file__).parents[2]
DUNLIN = (ROOT / "machines" / "dunlin" / "machine.py").read_text(encoding="utf-8")


def wiring_of(folder: Path) -> Model:
    """The model without its microprogram, so that the rules read the wiring alone."""
    machine = read_machine(folder)
    return Model(machine.folder, machine.netlist, machine.statements, None, machine.contents)


@pytest.mark.parametrize("folder", ["machines/dunlin", "machines/sanderling", "src/latchwork/templates/first"])
def test_nothing_to_find(folder: str) -> None:
    assert check(wiring_of(ROOT / folder)).problems == ()


@pytest.mark.parametrize(
    ("right", "wrong", "found"),
    [
        ("OE_n=ram_show_n", "OE_n=LOW", {"W104", "W201"}),
        ("G_n=acc_take_n, D=result", "D=result", {"W101", "W104"}),
        ("A=keys, Y=data", "A=keys, Y=pc[0:8]", {"W108"}),
        ("C0=low_sum.C4", "C0=m.net('forgotten')", {"W103"}),
        ("A=[*pc, LOW], D=program", "A=[*pc, LOW], D=[*program[0:7], LOW]", {"W103", "W107"}),
        ("WE_n=write_n", "WE_n=ram_write_n", {"W104", "W305"}),
        ('m.lamps(acc, colour="amber")', 'm.lamps(acc, colour="amber", resistor=None)', {"W303"}),
        ('m.chip("377", label="index"', 'm.chip("74LS377", label="index"', {"W301"}),
        ('m.chip("688", label="zero"', 'm.chip("74HC688", label="zero"', {"W302"}),
        ('m.chip("541", label="keys"', 'm.chip("74LVC541", label="keys"', {"W304"}),
        ('m.bus("data", 8, idle=pull_up("10k"))', 'm.bus("data", 8, idle=pull_up("470"))', {"W301"}),
        ('label="lamps", CLK=clock', 'label="lamps", GND=clock, CLK=clock', {"W106"}),
    ],
)
def test_a_wrong_wire(right: str, wrong: str, found: set[str], tmp_path: Path) -> None:
    assert DUNLIN.count(right) == 1
    (tmp_path / "machine.py").write_text(DUNLIN.replace(right, wrong), encoding="utf-8")
    assert {problem.code for problem in check(wiring_of(tmp_path)).problems} == found
