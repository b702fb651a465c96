"""What a machine has left over, on a small one whose leftovers can be counted by hand."""

import json
from pathlib import Path

import pytest
from rule_cases import HEAD, RuleCase

from latchwork.cli.commands import spare as command
from latchwork.reports.spare import SpareOpcodes, SparePins, SpareRows, SpareSteps
from latchwork.tools.spare.finding import spare

MACHINE = """clock, reset_n = m.clock(1_000_000), m.power_on_reset()
step, opcode, data = m.bus("step", 2), m.bus("opcode", 3), m.bus("data", 8)
code, shown, last_n = m.bus("code", 2), m.bus("shown", 4), m.net("last_n")
acc_show_n, ram_show_n, keys_show_n = m.line("acc_show_n"), m.line("ram_show_n"), m.line("keys_show_n")
m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=last_n, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=[*step, OPEN, OPEN])
m.chip("173", CLK=clock, CLR=LOW, M=LOW, N=LOW, G1_n=last_n, G2_n=LOW, D=data[0:4], Q=[*opcode, OPEN])
coming = m.bus("coming", 3)
store = m.chip(
    "28C16", label="store", A=[*step, *opcode, *[LOW] * 6], D=[*code, *coming, OPEN, OPEN, OPEN],
    CE_n=LOW, OE_n=LOW, WE_n=HIGH,
)
m.chip("74HCT139", G1_n=LOW, S1=code, Y1=[OPEN, acc_show_n, ram_show_n, keys_show_n], G2_n=HIGH, S2=[LOW, LOW])
for label, line in (("acc", acc_show_n), ("ram", ram_show_n), ("keys", keys_show_n)):
    m.chip("541", label=label, G1_n=line, G2_n=LOW, A=[LOW] * 8, Y=data)
m.gate("inverter", coming[2], out=last_n)
m.gate("nand", coming[0], coming[0])
m.microprogram("wren.micro", store=[store], opcode=opcode, step=step)
"""
ROWS = """add | 0 | | code[0]=1
add | 1 | | code[1]=1
add | 2 | | coming[2]=1
sub | 0 | | coming[2]=1
"""


def test_a_small_machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    case = RuleCase("", "", {"machine": MACHINE, "rows": ROWS, "opcodes": "0-1 add\n4 sub\n"})
    report = spare(case.model(Path()))
    assert report.gates == (
        SparePins("U5", "74HCT139", "main", "74HCT139", ("2",)),
        SparePins("U9", "74HCT04", "main", "74HCT04", ("2", "3", "4", "5", "6")),
        SparePins("U10", "74HCT00", "main", "74HCT00", ("2", "3", "4")),
    )
    assert report.decoders == (SparePins("U5", "74HCT139", "main", "74HCT139", ("Y1_0",)),)
    assert report.lines == ("keys_show",)  # code 3 stands in no row
    assert report.word_bits == (SparePins("U4", "28C16", "main", "store", ("D3", "D5", "D6", "D7")),)
    assert report.opcodes == SpareOpcodes(8, 5, ((2, 3), (5, 7)))
    assert report.steps == SpareSteps(4, 3, ("add",), 4)
    assert report.rows == SpareRows(32, 32 - 7)  # three steps at two opcodes, one step at one
    text = "\n".join(command._lines(report))
    assert "opcodes: 5 of 8 (0x2 to 0x3, 0x5 to 0x7)" in text
    assert "steps: 4 fit, the longest take 3 (`add`); 4 slots are free in all" in text


def test_without_a_microprogram(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from latchwork.cli.main import run

    monkeypatch.chdir(tmp_path)
    Path("machine.py").write_text(HEAD + 'm.gate("nand", HIGH, m.switch("a"), name="x")\n', encoding="utf-8")
    assert run(["spare"]) == 0


def test_as_json(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    from latchwork.cli.main import run

    monkeypatch.chdir(tmp_path)
    Path("machine.py").write_text(HEAD + 'm.gate("nand", HIGH, m.switch("a"), name="x")\n', encoding="utf-8")
    assert run(["spare", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert (said["command"], said["ok"], said["machine"]) == ("spare", True, "wren")
    assert [(chip["reference"], chip["names"]) for chip in said["gates"]] == [("U1", ["2", "3", "4"])]
    assert said["opcodes"] is None


def test_outputs_of_decoders_count_upwards(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The '138 has Y0 at pin 15, Y1 at 14 ... Y6 at 9 and Y7 at 7 (data sheet); the '154 goes on behind Y9."""
    monkeypatch.chdir(tmp_path)
    machine = """code, on = m.switches("code", 4), m.bus("on", 2)
m.chip("138", S=code[0:3], G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[*[OPEN] * 3, on[0], *[OPEN] * 4])
m.chip("154", S=code, G1_n=LOW, G2_n=LOW, Y=[*[OPEN] * 6, on[1], *[OPEN] * 9])
m.gate("nand", on[0], on[1], name="x")
"""
    report = spare(RuleCase("", "", {"machine": machine}).model(Path()))
    numbers = [[int(name.removeprefix("Y")) for name in found.names] for found in report.decoders]
    assert numbers == [[0, 1, 2, 4, 5, 6, 7], [*range(6), *range(7, 16)]]
