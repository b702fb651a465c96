"""Every example machine with its power-up state unknown: most of it becomes known after the reset, and what is called
known holds for twenty seeds, net by net and tick by tick."""

from __future__ import annotations

from pathlib import Path

import pytest

import latchwork
from latchwork.cli.main import run
from latchwork.engines.protocol import Value
from latchwork.tools.run.running import Running

ROOT = Path(__file__).parents[2]
MACHINES = {
    "dunlin": (ROOT / "machines" / "dunlin", "programs/multiply.asm"),
    "redshank": (ROOT / "tests" / "machines" / "redshank", "multiply.asm"),
    "whimbrel": (ROOT / "tests" / "machines" / "whimbrel", "multiply.asm"),
    "new": (None, "count.asm"),
}
TICKS, SEEDS = 300, 20


@pytest.fixture(params=MACHINES)
def place(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Path, str]:
    """A machine's folder and a program of it."""
    folder, program = MACHINES[request.param]
    if folder is None:
        monkeypatch.chdir(tmp_path)
        assert run(["new", "plover"]) == 0
        folder = tmp_path / "plover"
    return folder, program


def powered(place: tuple[Path, str], **options: int) -> Running:
    machine = latchwork.load(place[0], **options)
    machine.load(place[1])
    return machine


@pytest.mark.slow
def test_what_is_known_holds_for_every_seed(place: tuple[Path, str]) -> None:
    unknown = powered(place, unknown=True).simulation
    seeded = [powered(place, seed=seed).simulation for seed in range(SEEDS)]
    nets = range(len(unknown.netlist.nets))
    for _ in range(TICKS):
        for simulation in (unknown, *seeded):
            simulation.tick()
        for net in nets:
            value = unknown.value(net)
            if value is not Value.UNKNOWN:
                assert {simulation.value(net) for simulation in seeded} == {value}, unknown.netlist.nets[net]


def test_nearly_everything_is_known_after_reset(place: tuple[Path, str]) -> None:
    """From the reset to the end of the program; registers that nothing clears are unknown until they take something."""
    machine = powered(place, unknown=True)
    simulation = machine.simulation
    nets = range(len(simulation.netlist.nets))
    reset = simulation.netlist.net_named["reset_n"]
    halt = machine.model.statements.halts[0]
    known = total = 0
    while simulation.value(halt.net) != halt.level or simulation.value(reset) is not Value.HIGH:
        simulation.tick()
        if simulation.value(reset) is Value.HIGH:
            known += sum(simulation.value(net) is not Value.UNKNOWN for net in nets)
            total += len(nets)
    assert known / total >= 0.95


def test_sanderling_too() -> None:
    """No clock of its own: pressed by hand, from the first press on."""
    machines = [latchwork.load(ROOT / "machines" / "sanderling", unknown=True)]
    machines += [latchwork.load(ROOT / "machines" / "sanderling", seed=seed) for seed in range(SEEDS)]
    nets = range(len(machines[0].simulation.netlist.nets))
    known = total = 0
    for press in range(40):
        for machine in machines:
            machine["show"], machine["acc_take_n"], machine["keys"] = 2 + press % 2, press >> 2 & 1, press * 7 & 0xFF
            machine.step_clock()
        unknown, *seeded = (machine.simulation for machine in machines)
        for net in nets:
            value = unknown.value(net)
            if value is not Value.UNKNOWN:
                assert {simulation.value(net) for simulation in seeded} == {value}, unknown.netlist.nets[net]
                known += 1
            total += 1
    assert known / total >= 0.95
