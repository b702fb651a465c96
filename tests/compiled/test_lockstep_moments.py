"""Moments of compiled code: going back to them and on again is as if nothing had happened."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from lockstep import Lockstep
from random_netlists import contents_for, random_netlist, stir
from talking_machine import MACHINE
from test_lockstep_devices import attach

from latchwork.devices.made import made
from latchwork.load.model import load_model


@pytest.mark.parametrize("seed", range(25))
def test_random_machines_go_back_and_forth(seed: int) -> None:
    netlist = random_netlist(500 + seed)
    lockstep = Lockstep(netlist, contents_for(netlist), seed=seed)
    walk(lockstep, seed)


@pytest.mark.parametrize("seed", range(4))
def test_devices_go_back_and_forth(tmp_path: Path, seed: int) -> None:
    (tmp_path / "machine.py").write_text(MACHINE)
    model = load_model(tmp_path)
    lockstep = Lockstep(model.netlist, seed=seed)
    said = attach(lockstep, *([made(stated) for stated in model.statements.devices] for _ in range(2)))
    for engine in lockstep.both:
        engine.send("line", b"avocet")
    walk(lockstep, seed)
    assert said[0] == said[1]
    assert said[0]


def walk(lockstep: Lockstep, seed: int) -> None:
    """Save, go on, go back to any saved moment, on both engines."""
    lockstep.compiled.worth_it = 1
    rng = random.Random(seed)
    kept: list[tuple[object, object]] = []
    for step in range(25):
        choice = rng.random()
        if choice < 0.3:
            kept.append((lockstep.oracle.save(), lockstep.compiled.save()))
        elif choice < 0.5 and kept:
            for engine, moment in zip(lockstep.both, rng.choice(kept), strict=True):
                engine.restore(moment)
            lockstep.compare()
        elif choice < 0.6:
            for engine in lockstep.both:
                stir(engine, step)
            lockstep.compare()
        elif choice < 0.8:
            lockstep.run(rng.randrange(1, 60))
        else:
            for _ in range(rng.randrange(8)):
                lockstep.tick()
    lockstep.compare_states()
