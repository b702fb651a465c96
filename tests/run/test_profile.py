"""Profiles: the counts of a multiplication of eight turns, worked out by hand from its listing and the microprogram.

multiply.asm: 8 turns of ten instructions without `add [factor]`, which runs once for each 1 in 123 = 0b01111011: six
times. 11 instructions stand outside the turns. Each takes three clocks (fetch two, one of its own).
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from latchwork.cli.main import run
from latchwork.load.model import load_model
from latchwork.reports.profile import Profile
from latchwork.reports.run import RunReport
from latchwork.tools.run.profile import Profiler
from latchwork.tools.run.running import Running

DUNLIN = Path(__file__).parents[2] / "machines" / "dunlin"
MULTIPLY = DUNLIN / "programs" / "multiply.asm"


@cache
def multiplied() -> tuple[RunReport, Profile]:
    running = Running(load_model(DUNLIN))
    running.load(str(MULTIPLY))
    profiler = Profiler(running)
    report = running.run()
    return report, profiler.profile()


def test_every_clock_is_somebodys() -> None:
    report, profile = multiplied()
    assert profile.clocks == report.clocks
    assert profile.outside + sum(row.clocks for row in profile.instructions) == report.clocks
    assert profile.outside + sum(row.clocks for row in profile.lines) == report.clocks
    assert sum(row.count for row in profile.instructions) == report.instructions


def test_times_and_clocks_by_instruction() -> None:
    counts = {row.name: (row.count, row.clocks) for row in multiplied()[1].instructions}
    assert counts["add [n]"] == (6, 18)
    assert counts["rotate right"] == (16, 48)
    assert counts["store acc, [n]"] == (19, 57)
    assert counts["dec index"] == (8, 24)
    assert counts["output [n]"] == (2, 6)


def test_by_line_of_the_program() -> None:
    profile = multiplied()[1]
    rows = {row.line: (row.text.split(";")[0].split()[-1], row.count, row.clocks) for row in profile.lines}
    text = MULTIPLY.read_text().splitlines()
    for number, (_, count, clocks) in rows.items():
        assert clocks == 3 * count or count == 1, text[number - 1]
    assert rows[22] == ("[factor]", 6, 18)
    assert [rows[number][1] for number in range(23, 30)] == [8] * 7


def test_coverage() -> None:
    profile = multiplied()[1]
    assert (profile.line_coverage.reached, profile.line_coverage.missed) == (profile.line_coverage.all, ())
    assert profile.instruction_coverage.reached == len(profile.instructions) == 13
    assert "nothing" in profile.instruction_coverage.missed
    # The shared fetch has two steps; each of the thirteen instructions has one of its own.
    assert profile.step_coverage.reached == 15
    assert "step 2 of add [n]" not in profile.step_coverage.missed


def test_cells_read_and_written() -> None:
    """factor is read by each add; high and low by a load in each turn and by the output; stores as in the listing."""
    ram = multiplied()[1].memory["ram"]
    assert ram.reads == ((0, 6), (1, 8 + 1), (2, 8 + 1))
    assert ram.writes == ((0, 1), (1, 1 + 8), (2, 1 + 8))
    rom = multiplied()[1].memory["rom"]
    assert rom.writes == ()
    assert {address for address, _ in rom.reads} >= set(range(1, 36))  # cell 0 stands there from the beginning


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["run", str(DUNLIN), str(MULTIPLY), "--profile", "--json"]) == 0
    profile = json.loads(capsys.readouterr().out)["profile"]
    assert {"name": "add [n]", "count": 6, "clocks": 18} in profile["instructions"]
    assert profile["memory"]["ram"]["writes"] == [[0, 1], [1, 9], [2, 9]]
    assert run(["run", str(DUNLIN), str(MULTIPLY), "--profile"]) == 0
    out = capsys.readouterr().out
    assert "add [n]                   6      18   6.6\n" in out
    assert "ram: 24 reads of 3 cells, 19 writes of 3 cells\n" in out
    assert "lines of the program: 21 of 21 reached\n" in out
