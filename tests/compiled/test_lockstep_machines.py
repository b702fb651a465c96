"""The example machines in both engines: every net after every tick, and after long runs of whole clocks."""

from __future__ import annotations

from pathlib import Path

import pytest
from lockstep import Lockstep

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.load.model import load_model
from latchwork.load.program import assemble_program
from latchwork.model import Model

ROOT = Path(__file__).resolve().parents[2]
DUNLIN = ROOT / "machines" / "dunlin"
PROGRAMS = sorted(path.name for path in (DUNLIN / "programs").glob("*.asm"))


def pair_of(model: Model, seed: int = 0) -> Lockstep:
    return Lockstep(model.netlist, waking_bytes(model, rom_bytes(model)), seed)


def dunlin_with(program: str) -> Model:
    model = load_model(DUNLIN)
    return model.with_contents(dict(assemble_program(model, DUNLIN / "programs" / program).contents))


@pytest.mark.parametrize("program", PROGRAMS)
def test_dunlin_tick_by_tick(program: str) -> None:
    pair = pair_of(dunlin_with(program), seed=1)
    for _ in range(600):
        pair.tick()
    pair.compare_states()


@pytest.mark.parametrize("program", PROGRAMS)
def test_dunlin_in_whole_clocks(program: str) -> None:
    pair = pair_of(dunlin_with(program), seed=2)
    for clocks in (1, 1500, 3, 1200):
        pair.run(clocks)
    pair.compare_states()
    assert pair.compiled.native_ticks > 100 * pair.compiled.oracle_ticks


@pytest.mark.parametrize("folder", ["machines/sanderling", "src/latchwork/templates/first"])
def test_other_machines(folder: str) -> None:
    pair = pair_of(load_model(ROOT / folder), seed=3)
    for clocks in (1, 2, 40, 1100, 1):
        pair.run(clocks)
    for _ in range(100):
        if pair.oracle.next_time is not None:
            pair.tick()
    pair.compare_states()


def test_going_back_to_a_saved_moment() -> None:
    pair = pair_of(dunlin_with("sort.asm"))
    pair.run(500)
    saved = [simulation.save() for simulation in pair.both]
    pair.run(1300)
    after = [[simulation.value(net) for net in range(len(pair.netlist.nets))] for simulation in pair.both]
    for simulation, moment in zip(pair.both, saved, strict=True):
        simulation.restore(moment)
    pair.compare()
    pair.run(1300)
    assert [[s.value(net) for net in range(len(pair.netlist.nets))] for s in pair.both] == after
