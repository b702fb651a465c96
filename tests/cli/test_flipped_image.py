"""One bit flipped in a used byte of a written control image of Dunlin: the run from the files is another one."""

import json
import random
import shutil
from pathlib import Path

import pytest

from latchwork.cli.main import run
from latchwork.load.model import load_model
from latchwork.netlist.queries import memory_pins
from latchwork.tools.images.chips import file_name
from latchwork.tools.run.running import Running

DUNLIN = Path(__file__).parents[2] / "machines" / "dunlin"
PROGRAM = DUNLIN / "programs" / "multiply.asm"


def used_cells() -> dict[str, set[int]]:
    """File name of each chip of the control store -> its cells that stand at its address pins during the program."""
    model = load_model(DUNLIN)
    running, netlist = Running(model), model.netlist
    binding = model.statements.microprogram
    assert binding
    used: dict[str, set[int]] = {file_name(netlist, chip): set() for chip in binding.store}

    def look() -> None:
        for chip in binding.store:
            pins = memory_pins(netlist.part_of(chip))
            assert pins
            cell = running.simulation.read(netlist.chips[chip].pins[pin] for pin in pins.address)
            if cell is not None:
                used[file_name(netlist, chip)].add(cell)

    running.on_tick.append(look)
    running.run(PROGRAM)
    return used


def test_a_flipped_bit_changes_the_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)

    def traced(folder: str) -> tuple[bytes, dict[str, object]]:
        words = [str(DUNLIN), str(PROGRAM), "--images", folder, "--clocks", "300", "--trace", "run.vcd", "--json"]
        assert run(["run", *words]) in (0, 1)
        return Path("run.vcd").read_bytes(), json.loads(capsys.readouterr().out)

    assert run(["images", str(DUNLIN), "--program", str(PROGRAM), "--out", "good", "--format", "hex"]) == 0
    assert run(["images", str(DUNLIN), "--program", str(PROGRAM), "--out", "bin", "--format", "bin"]) == 0
    capsys.readouterr()
    good, told = traced("good")
    assert told["stop"] == "halt"
    assert traced("bin") == (good, told)
    chance = random.Random(7)
    reports = []
    for name, cells in used_cells().items():
        for cell in chance.sample(sorted(cells), 2):
            shutil.copytree("bin", "bad", dirs_exist_ok=True)
            content = bytearray(Path("bad", f"{name}.bin").read_bytes())
            content[cell] ^= 1 << chance.randrange(8)
            Path("bad", f"{name}.bin").write_bytes(content)
            trace, report = traced("bad")
            assert trace != good, (name, cell)
            reports.append(report)
    assert any((each["stop"], each["outputs"]) != (told["stop"], told["outputs"]) for each in reports)
