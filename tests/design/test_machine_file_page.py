"""docs/machine-file.md: its code is a machine, and every statement of a machine stands on it."""

import re
from pathlib import Path

from latchwork import Machine
from latchwork.load.machine import read_machine

PAGE = Path(__file__).parents[2] / "docs" / "machine-file.md"


def test_the_blocks_of_the_page_are_one_machine(tmp_path):
    blocks = re.findall(r"^```python\n(.*?)^```$", PAGE.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    (tmp_path / "machine.py").write_text("\n".join(blocks), encoding="utf-8")
    loaded = read_machine(tmp_path)
    squares = next(index for index, chip in enumerate(loaded.netlist.chips) if chip.label.endswith("squares"))
    assert list(loaded.contents[squares][:16]) == [n * n for n in range(16)]
    assert loaded.netlist.nets[loaded.netlist.clock].name == "clock"


def test_every_statement_is_on_the_page():
    text = PAGE.read_text(encoding="utf-8")
    results = {"netlist", "statements", "contents", "name"}
    statements = {name for name in vars(Machine) if not name.startswith("_")} - results
    assert sorted(name for name in statements if f"m.{name}(" not in text) == []
