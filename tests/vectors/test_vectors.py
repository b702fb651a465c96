"""Tests for chips in hand: their length where reasoning gives it, what they find, the files they are written to.

A gate of n inputs needs n + 1 vectors for all its stuck-at faults, an exclusive-or of two inputs three, a selector of
n data inputs 2 n, a decoder of n codes n and one for each enable (textbook practice in testing).
"""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
from itertools import combinations, pairwise, product
from pathlib import Path

import pytest
from click.testing import CliRunner

from latchwork.analysis.one_part.elementary import elementary
from latchwork.analysis.one_part.faults import faults_of, faulty
from latchwork.chips.catalogue import find
from latchwork.cli.commands.vectors import command
from latchwork.problems import LatchworkError
from latchwork.tools.vectors.confirm import surprises
from latchwork.tools.vectors.files import as_csv, as_header
from latchwork.tools.vectors.tester import checked
from latchwork.tools.vectors.vectors import vectors


@pytest.mark.parametrize(
    ("name", "length"),
    [("74HC04", 2), ("74HC00", 3), ("74HC02", 3), ("74HC32", 3), ("74HC86", 3), ("74HC10", 4), ("74HC20", 5),
     ("74HC30", 9), ("74LS133", 14), ("74HC138", 11), ("74HC139", 5), ("74HC151", 17)],
)  # fmt: skip
def test_length_is_that_of_the_textbook(name: str, length: int) -> None:
    report = vectors(find(name))
    assert (len(report.vectors), report.coverage, report.hidden, report.missed) == (length, 100, (), ())


def test_no_two_vectors_test_a_nand_gate() -> None:
    """Worked out here from nothing but the truth table: pins stuck high or low, all sets of one and of two vectors."""

    def shown(a: int, b: int) -> frozenset[tuple[str, int]]:
        right = 1 - (a & b)
        stuck = {
            **{("A", level): 1 - (level & b) for level in (0, 1)},
            **{("B", level): 1 - (a & level) for level in (0, 1)},
            **{("Y", level): level for level in (0, 1)},
        }
        return frozenset(fault for fault, answer in stuck.items() if answer != right)

    every = list(product((0, 1), repeat=2))
    sets = [{fault for vector in chosen for fault in shown(*vector)} for chosen in combinations(every, 2)]
    assert max(map(len, sets)) < 6
    assert len(shown(0, 1) | shown(1, 0) | shown(1, 1)) == 6


@pytest.mark.parametrize(
    "name", ["74HC161", "74HC74", "74HC377", "74HC373", "74HC193", "74HC245", "74HC283", "74LS189"]
)
def test_every_fault_that_can_be_seen_is_found(name: str) -> None:
    report = vectors(find(name))
    assert report.missed == ()
    assert report.coverage == 100
    assert report.found + len(report.hidden) == report.faults
    assert report.pin_faults == 2 * sum(pin.role in ("in", "out", "both", "pull-up") for pin in report.pins)


@pytest.mark.parametrize("name", ["74HC161", "74HC173", "74HC595"])
def test_a_sound_part_passes_from_any_power_up_state_and_a_faulty_one_never(name: str) -> None:
    """With other seeds than those of the confirmation."""
    part = elementary(find(name))
    tester, rows = checked(part), list(vectors(find(name)).vectors)
    for seed in range(20, 32):
        assert list(surprises(tester, part, rows, seed)) == []
    found = [fault for fault in faults_of(part) if next(surprises(tester, faulty(part, fault), rows, 20), None)]
    assert len(found) == vectors(find(name)).found


def test_careful_pins_move_alone() -> None:
    report = vectors(find("74HC161"))
    assert {pin.name for pin in report.pins if pin.careful} == {"CLK", "/CLR"}
    rest = {"C": "0", "K": "1"}
    rows = ["".join(rest.get(letter, letter) for letter in row.levels) for row in report.vectors]
    careful = [index for index, pin in enumerate(report.pins) if pin.careful]
    driven = [index for index, pin in enumerate(report.pins) if pin.role == "in"]
    for before, after in pairwise(rows):
        moved = [index for index in driven if before[index] != after[index]]
        assert len(moved) <= 1 or not set(moved) & set(careful)


def test_the_same_seed_gives_the_same_test() -> None:
    part = find("74HC163")
    assert vectors(part, 3) == vectors(part, 3)
    assert vectors(part, 3).coverage == vectors(part, 4).coverage == 100


def test_a_fault_that_no_vector_shows_is_proved_hidden() -> None:
    """The 283 in elementary operations has none; in the 161 the carry into a bit that is never used has."""
    assert vectors(find("74HC283")).hidden == ()
    assert len(vectors(find("74HC161")).hidden) == 1


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("LED", "LED has no vectors: it drives no pin by logic"),
        ("hand clock", "hand clock has no vectors: it answers in its own time"),
    ],
)
def test_a_part_that_it_does_not_suit_is_refused(name: str, message: str) -> None:
    with pytest.raises(LatchworkError) as refused:
        vectors(find(name))
    assert refused.value.problems[0].code == "C121"
    assert refused.value.problems[0].message == message


def test_the_table_has_a_column_a_pin() -> None:
    report = vectors(find("74HC00"))
    head, *rows = csv.reader(io.StringIO(as_csv(report)))
    assert head[:5] == ["vector", "times", "1 1A", "2 1B", "3 1Y"]
    assert len(rows) == len(report.vectors)
    for row in rows:
        assert row[4] == ("L" if row[2:4] == ["1", "1"] else "H")


PROGRAM = r"""
#include <stdio.h>
#include "test.h"
int main(void) {
    for (int v = 0; v < N74HC161_VECTORS; v++)
        for (int b = 0; b < N74HC161_BYTES; b++)
            printf("%d%c", vectors_n74hc161[v][b], b + 1 < N74HC161_BYTES ? ' ' : '\n');
    return 0;
}
"""


@pytest.mark.skipif(shutil.which("cc") is None, reason="needs a C compiler")
def test_a_compiler_reads_the_header(tmp_path: Path) -> None:
    """The bytes that a C program sees are taken apart as the header's comment says."""
    report = vectors(find("74HC161"))
    (tmp_path / "test.h").write_text(as_header(report))
    (tmp_path / "main.c").write_text(PROGRAM)
    call = ["cc", "-std=c99", "-pedantic", "-Wall", "-Wextra", "-Werror", "-o", "main", "main.c"]
    subprocess.run(call, cwd=tmp_path, check=True)
    printed = subprocess.run(["./main"], cwd=tmp_path, check=True, capture_output=True, text=True).stdout
    rows = [[int(word) for word in line.split()] for line in printed.splitlines()]
    assert len(rows) == len(report.vectors)
    for row, vector in zip(rows, report.vectors, strict=True):
        size = (len(row) - 3) // 4
        drive, high, look, free = (int.from_bytes(row[3 + k * size : 3 + (k + 1) * size], "little") for k in range(4))
        for pin, letter in enumerate(vector.levels):
            bits = [mask >> pin & 1 for mask in (drive, high, look, free)]
            expected = {"0": [1, 0, 0, 0], "1": [1, 1, 0, 0], "C": [1, 0, 0, 0], "K": [1, 1, 0, 0], "L": [0, 0, 1, 0],
                        "H": [0, 1, 1, 0], "Z": [0, 0, 1, 1], "X": [0, 0, 0, 0], "N": [0, 0, 0, 0]}  # fmt: skip
            assert bits == expected[letter]
        pulsed = re.search("[CK]", vector.levels)
        assert row[0] == (pulsed.start() + 1 if pulsed else 0)
        assert row[1] + 256 * row[2] == (vector.times if pulsed else 0)


def test_the_command_writes_its_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(command, ["74HC00", "--csv", "t.csv", "--header", "t.h"], standalone_mode=False)
    assert done.return_value == 0
    assert "coverage 100 %" in done.output
    assert Path("t.csv").read_text().startswith("vector,times,1 1A")
    assert "#define N74HC00_VECTORS 3" in Path("t.h").read_text()
