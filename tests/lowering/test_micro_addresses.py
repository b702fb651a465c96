"""Micro-addresses stay where they were: an unchanged instruction keeps its place, a pinned one gets its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from turnstone import control

from latchwork.load.machine import read_machine
from latchwork.model import ControlProgram

SMALL = Path(__file__).parent.parent / "machines"
DOUBLE = "    acc_show, acc_use, acc_take, flags_take, home\n"


def machine(
    name: str, folder: Path, *changes: tuple[str, str], previous: ControlProgram | None = None
) -> ControlProgram:
    (folder / "machine.py").write_text((SMALL / name / "machine.py").read_text())
    text = (SMALL / name / f"{name}.micro").read_text()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / f"{name}.micro").write_text(text)
    return control(read_machine(folder), previous)


def places(program: ControlProgram) -> dict[tuple[str, int, object], tuple[int, ...]]:
    return {(row.block, row.step, row.conditions): row.addresses for row in program.rows}


def differing(a: ControlProgram, b: ControlProgram) -> int:
    return sum(
        x != y for (_, one), (_, two) in zip(a.contents, b.contents, strict=True) for x, y in zip(one, two, strict=True)
    )


def test_a_longer_instruction_moves_alone(tmp_path: Path) -> None:
    before = machine("redshank", tmp_path)
    longer = (DOUBLE, "    acc_show\n    acc_show\n" + DOUBLE)
    after = machine("redshank", tmp_path, longer, previous=before)
    moved = {name for name, start in after.starts if dict(before.starts)[name] != start}
    assert moved == {"double"}
    fresh = machine("redshank", tmp_path, longer)
    assert differing(before, after) < differing(before, fresh)


def test_an_unchanged_microprogram_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("redshank", "whimbrel"):
        before = machine(name, tmp_path)
        assert machine(name, tmp_path, previous=before) == before
        assert machine(name, tmp_path) == before


def test_an_instruction_put_in_front_takes_free_room(tmp_path: Path) -> None:
    before = machine("redshank", tmp_path)
    new = "instruction first code 1111_0000\n    meaning nothing\n    fetch\n    nothing\n    home\n\n"
    after = machine("redshank", tmp_path, ("instruction load #n", new + "instruction load #n"), previous=before)
    kept = {name: start for name, start in after.starts if name != "first"}
    assert kept == dict(before.starts)
    assert dict(after.starts)["first"] > max(kept.values())


def test_rows_of_the_next_address_form_keep_their_places(tmp_path: Path) -> None:
    before = machine("whimbrel", tmp_path)
    longer = "macro longer()\n" + "    program_show, where_take\n" * 3 + "\nmacro point()\n"
    end = "()\n    memory_show, acc_take\n"
    changes = (("macro point()\n", longer), (f"    point{end}", f"    longer{end}"))
    then, now = places(before), places(machine("whimbrel", tmp_path, *changes, previous=before))
    assert {key[0] for key in then if then[key] != now.get(key)} <= {"load [n]"}
    fresh = places(machine("whimbrel", tmp_path, *changes))
    assert {key[0] for key in then if then[key] != fresh.get(key)} - {"load [n]"}


@pytest.mark.parametrize("start", [0x20, 0x123, 0xFFE])
def test_a_pinned_block_stands_where_it_is_pinned(tmp_path: Path, start: int) -> None:
    program = machine("redshank", tmp_path, ("    fetch\n" + DOUBLE, f"    pin at {start:#x}\n    fetch\n" + DOUBLE))
    assert dict(program.starts)["double"] == start
    others = [begin for name, begin in program.starts if name != "double"]
    assert len(set(others)) == len(others)


def test_a_pinned_block_pushes_others_away(tmp_path: Path) -> None:
    before = machine("redshank", tmp_path)
    taken = dict(before.starts)["load #n"]
    pinned = ("    fetch\n" + DOUBLE, f"    pin at {taken}\n    fetch\n" + DOUBLE)
    after = machine("redshank", tmp_path, pinned, previous=before)
    assert dict(after.starts)["double"] == taken
    assert dict(after.starts)["load #n"] != taken
