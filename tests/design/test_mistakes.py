"""Every mistake in machine.py says what was written, where, and what would fit: mistakes/*.txt, full texts."""

from pathlib import Path

import pytest

from latchwork.design.errors import CODES
from latchwork.load.machine import read_machine
from latchwork.problems import LatchworkError

HEAD = """from latchwork import HIGH, LOW, OPEN, Machine, keeper, pull_down, pull_up

m = Machine("wren", family="HCT")
"""


def cases():
    """(title, machine text below the head, full message) of every case."""
    for file in sorted((Path(__file__).parent / "mistakes").glob("*.txt")):
        for block in file.read_text(encoding="utf-8").split("== ")[1:]:
            title, _, rest = block.partition("\n")
            body, _, message = rest.partition("-- says\n")
            yield pytest.param(body, message.strip(), id=f"{file.stem}: {title}")


def told(error: LatchworkError) -> str:
    """The problem on one line, and its further places below."""
    further = [label for problem in error.problems for label in problem.labels[1:]]
    return "\n".join([str(error), *(f"    {label.position}: {label.text}" for label in further)])


@pytest.mark.parametrize(("body", "message"), list(cases()))
def test_mistake(body, message, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("machine.py").write_text(HEAD + body, encoding="utf-8")
    with pytest.raises(LatchworkError) as caught:
        read_machine(".")
    assert told(caught.value) == message


def test_every_code_has_a_case():
    said = "\n".join(case.values[1] for case in cases())
    assert [code for code in CODES if code not in said] == []


def test_a_mistake_in_a_helper_module_names_its_line(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("registers.py").write_text("def byte_register(m):\n    m.chip('74HCT377', CLOCK=m.net('clock'))\n")
    Path("machine.py").write_text("from latchwork import Machine\nfrom registers import byte_register\n"
                                  "m = Machine('wren')\nbyte_register(m)\n")  # fmt: skip
    with pytest.raises(
        LatchworkError, match=r'^registers.py:2:5: M002 74HCT377 has no pin "CLOCK"; it has CLK, G_n, D,'
    ):
        read_machine(".")
