"""`latchwork run` on a machine of a counter, switches and lamps that needs no program."""

import json
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest
from vcdvcd import VCDVCD

from latchwork.cli.main import run
from latchwork.traces.table import from_csv

MACHINE = """
from latchwork import HIGH, LOW, OPEN, Machine
m = Machine("counting")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
count = m.bus("count", 4)
m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=count, RCO=OPEN)
keys = m.switches("keys", 2)
both = [m.gate("and", key, bit) for key, bit in zip(keys, count)]
m.output("seen", both)
m.input("keys", keys)
m.register("count", count)
m.halt_when(count[2], HIGH)
"""


@pytest.fixture
def call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "machine.py").write_text(MACHINE)
    monkeypatch.chdir(tmp_path)

    def called(*words: str) -> tuple[int, str, str]:
        status = run(["run", *words])
        printed = capsys.readouterr()
        return status, printed.out, printed.err

    return called


def test_report(call) -> None:
    status, out, err = call(".", "--input", "keys=0b11", "--watch", "reset_n")
    assert (status, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == "stopped: it halted, count[2] is 1"
    assert lines[1].endswith("µs of the machine's time")
    assert lines[2:5] == ["registers: count 4", "watched: reset_n 1", "seen: 1 2 3 0"]


def test_json(call) -> None:
    status, out, _ = call(".", "--json", "--until", "never", "--clocks", "30", "--input", "keys=1")
    said = json.loads(out)
    assert status == 0
    assert (said["ok"], said["stop"], said["clocks"], said["instructions"]) == (True, "clocks", 30, None)
    assert said["outputs"]["seen"] == [1, 0] * (len(said["outputs"]["seen"]) // 2) + [1] * (
        len(said["outputs"]["seen"]) % 2
    )


def test_clocks_used_up_is_exit_1(call) -> None:
    status, out, _ = call(".", "--clocks", "2")
    assert status == 1
    assert out.startswith("stopped: 2 clocks have passed, it has not halted\n2 clocks, ")


def test_trace_read_by_another_reader(call) -> None:
    status, _, _ = call(".", "--trace", "count.vcd")
    assert status == 0
    read = VCDVCD("count.vcd")
    assert read.timescale["timescale"] == Decimal("1e-12")
    numbers = [int(levels, 2) for _, levels in read["counting.count"].tv if set(levels) <= {"0", "1"}]
    assert numbers[-5:] == [0, 1, 2, 3, 4]
    rises = [time for time, level in read["counting.clock"].tv if level == "1"]
    assert {later - earlier for earlier, later in pairwise(rises)} == {1_000_000}


def test_trace_as_a_table(call) -> None:
    assert call(".", "--trace", "count.csv", "--watch", "count,clock")[0] == 0
    trace = from_csv(Path("count.csv").read_bytes())
    assert [signal.name for signal in trace.signals] == ["count", "clock"]
    assert trace.signal("count").number_at(trace.end_ps) == 4


MESSAGES = [
    (["--input", "keys"], 'R103 "keys" sets nothing\nhelp: write NAME=NUMBER, such as keys=5 or keys=0x1F\n'),
    (["--input", "keys=9"], 'R103 9 does not fit "keys", which takes 0 to 3\n'),
    (["--watch", "cout"], 'R101 the machine has nothing called "cout"\nhelp: did you mean "count"?\n'),
    (["--trace", "machine.py"], "C102 this file was not written by Latchwork\n"),
]


@pytest.mark.parametrize(("words", "message"), MESSAGES)
def test_messages(call, words: list[str], message: str) -> None:
    status, out, err = call(".", *words)
    assert (status, out) == (2, "")
    assert err.startswith(message)
    assert "Machine(" in Path("machine.py").read_text()
