"""docs/adding-a-part.md is worked through: its files are written, its machine is read and run, its test is run."""

import re
import sys
from pathlib import Path

import pytest

from latchwork.chips import catalogue
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.load.machine import read_machine
from latchwork.netlist.verify_part import verify_part
from latchwork.parts import Floating
from latchwork.problems import LatchworkError

PAGE = Path(__file__).parents[2] / "docs" / "adding-a-part.md"
HEADINGS = ["What it does", "Pins", "Function table", "Timing", "Mistakes people make", "Sources"]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the page's files."""
    blocks = re.findall(r"^```python (\S+)\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    for name, text in blocks:
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    yield tmp_path
    for name, _ in blocks:
        sys.modules.pop(name.removesuffix(".py"), None)


def imported(name: str) -> object:
    return __import__(name)


def test_an_own_part_has_ten_lines_and_works_in_a_machine(folder: Path) -> None:
    lines = [line for line in (folder / "own_parts.py").read_text(encoding="utf-8").splitlines() if line]
    assert len(lines) <= 10
    netlist = read_machine(folder).netlist
    oracle = Oracle(netlist)
    keys = [net for net, row in enumerate(netlist.nets) if row.name.startswith("keys")]
    agreed = next(net for net, row in enumerate(netlist.nets) if row.name == "agreed")
    for number in range(8):
        oracle.force_all({net: number >> place & 1 for place, net in enumerate(keys)})
        assert oracle.value(agreed) == (Value.HIGH if number.bit_count() >= 2 else Value.LOW)


def test_measured_figures_stand_beside_those_of_the_sheet(folder: Path) -> None:
    mine = imported("measured").mine
    assert mine.figures[-1].source == "my oscilloscope"
    assert len(mine.figures) == len(catalogue.find("74HC161").figures) + 1
    assert verify_part(mine) == ()


def test_a_catalogue_file_is_complete_and_its_test_passes(folder: Path) -> None:
    module = imported("voter_3")
    assert [line for line in module.__doc__.splitlines() if line in HEADINGS] == HEADINGS
    (entry,) = catalogue.entries_of(module)
    assert verify_part(entry.in_family("", Floating.UNKNOWN)) == ()
    imported("test_voter_3").test_two_of_three()


def machine_of(folder: Path, *lines: str) -> Path:
    first = ["from dataclasses import replace", "from latchwork import Machine", "from own_parts import voter"]
    (folder / "machine.py").write_text("\n".join([*first, 'm = Machine("harbour")', *lines]), encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            'm.chip(replace(voter, vectors=(("V", ("nowhere",)),)))',
            'machine.py:5:1: M025 voter: the vector "V" has no pins, one twice, or one that the part lacks '
            "(mend the part where it is made)",
        ),
        (
            'm.chip(replace(voter, families=("LS", "HC")))',
            "machine.py:5:1: M001 voter is made in LS, HC, not in HCT "
            '(write family="..." in m.chip(), or a part that is in one family: entry.in_family(...))',
        ),
        (
            'm.chip(voter), m.chip(replace(voter, title="another"))',
            'machine.py:5:16: M006 two different parts are called "voter" (give one another name)',
        ),
    ],
)
def test_an_unsound_part_is_refused_where_it_is_used(folder: Path, line: str, message: str) -> None:
    with pytest.raises(LatchworkError) as refused:
        read_machine(machine_of(folder, line))
    assert str(refused.value).removeprefix(f"{folder}/") == message
