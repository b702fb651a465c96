"""Instructions that do not change keep the micro-addresses that the written images have."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from latchwork.cli.main import run
from latchwork.load.model import load_model
from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain

MACHINES = Path(__file__).parents[1] / "machines"
NEW = """
instruction swap nothing                        code {code}
    meaning   nothing
    fetch
    nothing
    {last}

"""


def places(model: Model) -> dict[str, list[tuple[int, ...]]]:
    """Block -> the addresses of its rows."""
    found: dict[str, list[tuple[int, ...]]] = {}
    assert model.control
    for row in model.control.rows:
        found.setdefault(row.block, []).append(row.addresses)
    return found


def with_one_more(folder: Path, code: str, last: str) -> None:
    """A new instruction before all others, and a new net in front of every other, so that all numbers move."""
    source = next(folder.glob("*.micro"))
    before, mark, after = source.read_text().partition("instruction ")
    source.write_text(before + NEW.format(code=code, last=last) + mark + after)
    machine = folder / "machine.py"
    lines = machine.read_text().splitlines(keepends=True)
    at = next(i for i, line in enumerate(lines) if line.startswith("m = Machine("))
    lines.insert(at + 1, 'm.lamp(m.net("first_of_all"))\n')
    machine.write_text("".join(lines))


@pytest.mark.parametrize(
    ("name", "code", "last"), [("redshank", "0111_1111", "home"), ("whimbrel", "0010_0101", "nothing")]
)
def test_unchanged_instructions_stay_where_they_are(name: str, code: str, last: str, tmp_path: Path) -> None:
    folder = tmp_path / name
    shutil.copytree(MACHINES / name, folder, ignore=shutil.ignore_patterns("images"))
    before = places(load_model(folder))
    assert run(["images", str(folder)]) == 0
    with_one_more(folder, code, last)
    kept = places(load_model(folder))
    assert kept.keys() - before.keys() == {"swap nothing"}
    assert {block: kept[block] for block in before if block != "other opcodes"} == {
        block: found for block, found in before.items() if block != "other opcodes"
    }
    shutil.rmtree(folder / "images")
    anew = places(load_model(folder))
    assert any(anew[block] != found for block, found in before.items()), "nothing moves even without the record"


def test_a_damaged_record_is_named(tmp_path: Path) -> None:
    folder = tmp_path / "redshank"
    shutil.copytree(MACHINES / "redshank", folder, ignore=shutil.ignore_patterns("images"))
    (folder / "images").mkdir()
    (folder / "images" / "redshank.latchwork").write_text("{}")
    with pytest.raises(LatchworkError) as caught:
        load_model(folder)
    assert plain(caught.value.problems[0]).replace(str(tmp_path), "HERE") == (
        "M112 what the ROMs hold already can't be read: this is not a saved model: Object missing required field "
        "`latchwork_model`\n"
        "  HERE/redshank/images/redshank.latchwork\n"
        "help: remove the file, and micro-addresses are given out anew; or write the images again"
    )
