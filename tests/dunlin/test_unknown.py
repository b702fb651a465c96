"""Dunlin with its power-up state unknown: most of it becomes known, and what is called known holds for every seed."""

from __future__ import annotations

import pytest
from dunlin_parts import DUNLIN

import latchwork
from latchwork.engines.protocol import Value

CLOCKS = 1500


@pytest.mark.parametrize("program", ["multiply", "sort"])
def test_after_reset_nearly_everything_is_known(program: str) -> None:
    machine = latchwork.load(DUNLIN, unknown=True)
    machine.load(f"programs/{program}.asm")
    engine = machine.simulation
    known = total = 0
    nets = range(len(engine.netlist.nets))
    reset = engine.netlist.net_named["reset_n"]
    for _ in range(2 * CLOCKS):
        engine.tick()
        if engine.value(reset) is Value.HIGH:
            known += sum(engine.value(net) is not Value.UNKNOWN for net in nets)
            total += len(nets)
    assert known / total >= 0.95


@pytest.mark.slow
def test_what_is_known_holds_for_every_seed() -> None:
    unknown = latchwork.load(DUNLIN, unknown=True)
    seeded = [latchwork.load(DUNLIN, seed=seed) for seed in range(20)]
    for machine in (unknown, *seeded):
        machine.load("programs/multiply.asm")
    nets = range(len(unknown.simulation.netlist.nets))
    for _ in range(600):
        for machine in (unknown, *seeded):
            machine.simulation.tick()
        for net in nets:
            value = unknown.simulation.value(net)
            if value is not Value.UNKNOWN:
                assert {machine.simulation.value(net) for machine in seeded} == {value}, (
                    unknown.simulation.netlist.nets[net]
                )
