"""`assemble`, `disassemble` and `card` on a saved model whose instructions are written down here by hand, so that
neither a microprogram nor its lowering is needed."""

import json
from pathlib import Path

import pytest

from latchwork import LOW, Machine
from latchwork.cli.main import run
from latchwork.load.saved import saved
from latchwork.model import CodeBits, ControlProgram, Instruction, Model, Operand, OperandKind, SyntaxItem

BYTE = OperandKind("byte", 8, low=-128, high=255)
PLACE = OperandKind("place", 8, low=0, high=255)
INSTRUCTIONS = (
    Instruction("halt", (), (), ((CodeBits(8, 0),),), "", (2, 2)),
    Instruction(
        "load",
        (SyntaxItem("#"), SyntaxItem("n", True)),
        (Operand("n", BYTE),),
        ((CodeBits(8, 0x41),), (CodeBits(8, operand="n"),)),
        "acc = n",
        (3, 3),
    ),
    Instruction(
        "jump", (SyntaxItem("to", True),), (Operand("to", PLACE),), ((CodeBits(8, 0x80),), (CodeBits(8, operand="to"),))
    ),
)
SOURCE = "count = 7\nstart:  load #count\n        jump start\n        halt\n"
WORDS = bytes([0x41, 7, 0x80, 0, 0])  # by the codes above, by hand


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    m = Machine("heron")
    address = m.bus("address", 8)
    rom = m.chip("28C16", A=[*address, *[LOW] * 3], D=m.bus("data", 8), CE_n=LOW, OE_n=LOW, WE_n=LOW)
    m.space("rom", address=address, data=rom.D, chips=[rom])
    control = ControlProgram("steps", (), (), INSTRUCTIONS, (), ())
    monkeypatch.chdir(tmp_path)
    Path("heron.latchwork").write_bytes(saved(Model(tmp_path, m.netlist(), m.statements(), control)))
    Path("first.asm").write_text(SOURCE)

    def called(*words: str) -> tuple[int, str, str]:
        status = run([words[0], "heron.latchwork", *words[1:]])
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return called


def test_listing(call) -> None:
    status, out, err = call("assemble", "first.asm")
    assert (status, err) == (0, "")
    assert "0000     41 07                   3      2  start:  load #count\n" in out


def test_symbols(call) -> None:
    status, out, _ = call("assemble", "first.asm", "--symbols")
    assert status == 0
    assert [line.split()[:3] for line in out.splitlines()] == [
        ["count", "$0007", "constant"],
        ["start", "$0000", "rom"],
    ]


def test_files_and_back(call) -> None:
    assert call("assemble", "first.asm", "--out", "built") == (0, "first.asm: 5 words in rom\n3 files in built\n", "")
    assert Path("built/first-rom.bin").read_bytes() == WORDS
    assert sorted(path.suffix for path in Path("built").glob("first.*")) == [".listing", ".symbols"]
    status, out, _ = call("disassemble", "built/first-rom.bin")
    assert status == 0
    Path("again.asm").write_text(out)
    call("assemble", "again.asm", "--out", "again")
    assert Path("again/again-rom.bin").read_bytes() == WORDS


def test_json(call) -> None:
    said = json.loads(call("assemble", "first.asm", "--json")[1])
    assert (said["ok"], said["words"]) == (True, {"rom": 5})
    said = json.loads(call("card", "--json")[1])
    assert said["lines"][1]["code"] == ["01000001", "nnnnnnnn"]


def test_card(call) -> None:
    status, out, _ = call("card")
    assert status == 0
    assert out.splitlines()[:3] == [
        "instruction  code               clocks  meaning",
        "halt         00000000           2",
        "load #n      01000001 nnnnnnnn  3       acc = n",
    ]


def test_a_mistake_shows_its_line(call) -> None:
    Path("first.asm").write_text("  load #count\n")
    status, out, err = call("assemble", "first.asm", "--out", "built")
    assert (status, out) == (2, "")
    assert "first.asm:1:9" in err
    assert "load #count\n            ^" in err
    assert not Path("built").exists()


def test_no_such_section(call) -> None:
    Path("a.bin").write_bytes(WORDS)
    assert call("disassemble", "a.bin", "--section", "ram") == (
        2,
        "",
        'C101 --section: there is no section "ram"; there are rom\n'
        'help: "latchwork disassemble --help" shows what it takes\n',
    )
