"""Clocks compiled for their control words, beside the oracle and general code: the same nets, states and memories."""

from __future__ import annotations

from pathlib import Path

import pytest
from lockstep import Lockstep
from terminal_machine import write_machine
from test_lockstep_machines import DUNLIN, PROGRAMS, ROOT

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.devices.made import made
from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.hot_clocks import Heat
from latchwork.engines.compiled.watching import Watch
from latchwork.load.model import load_model
from latchwork.load.program import assemble_program
from latchwork.model import Model

MACHINES = ROOT / "tests" / "machines"


def model_of(folder: Path, program: Path) -> Model:
    model = load_model(folder)
    return model.with_contents(dict(assemble_program(model, program).contents))


def early(model: Model, start: int = 100, samples: int = 200) -> Heat:
    """Soon, and not beside the run, so that it comes at the same clock each time."""
    assert model.statements.microprogram is not None
    return Heat(model.statements.microprogram, start=start, samples=samples, aside=False)


def pair_of(model: Model, seed: int = 0) -> Lockstep:
    pair = Lockstep(model.netlist, waking_bytes(model, rom_bytes(model)), seed, early(model))
    pair.compiled.worth_it = 1
    return pair


@pytest.mark.parametrize("program", PROGRAMS)
def test_dunlin(program: str) -> None:
    pair = pair_of(model_of(DUNLIN, DUNLIN / "programs" / program), seed=5)
    for clocks in (1, 400, 800, 3, 1000):
        pair.run(clocks)
    pair.compare_states()
    assert pair.compiled.hot_clocks > 500


@pytest.mark.parametrize("machine", ["redshank", "whimbrel"])
def test_other_forms_of_sequencing(machine: str) -> None:
    folder = MACHINES / machine
    pair = pair_of(model_of(folder, next(iter(sorted(folder.glob("*.asm"))))), seed=6)
    for clocks in (1, 400, 700, 3, 500):
        pair.run(clocks)
    pair.compare_states()
    assert pair.compiled.hot_clocks > 300


def test_lapwing_beside_general_code() -> None:
    folder = MACHINES / "lapwing"
    model = model_of(folder, folder / "rounds.asm")
    contents = waking_bytes(model, rom_bytes(model))
    general = CompiledEngine(model.netlist, contents, seed=7)
    hot = CompiledEngine(model.netlist, contents, seed=7, heat=early(model, 5_000, 1_000))
    for clocks in (7_000, 60_000, 1, 33_333):
        general.run(clocks)
        hot.run(clocks)
        assert states(hot) == states(general)
        assert (hot.ticks, hot.clocks, hot.time_ps) == (general.ticks, general.clocks, general.time_ps)
    assert hot.hot_clocks > 60_000


def states(engine: CompiledEngine) -> list[object]:
    netlist = engine.netlist
    found: list[object] = [engine.value(net) for net in range(len(netlist.nets))]
    for chip in range(len(netlist.chips)):
        behaviour = netlist.part_of(chip).behaviour
        found += [engine.state(chip, register.name) for register in behaviour.registers]
        found += [bytes(max(0, cell) for cell in engine.memory(chip, memory.name)) for memory in behaviour.memories]
    return found


def test_states_set_by_hand_and_single_steps() -> None:
    """Opcode and step set to what the program never comes to by itself, at a moment when hot code runs."""
    model = model_of(DUNLIN, DUNLIN / "programs" / "sort.asm")
    pair = pair_of(model, seed=8)
    pair.run(900)
    chips = [(chip, r.name) for chip, part in enumerate(model.netlist.chips)
             for r in model.netlist.part_of(chip).behaviour.registers if part.label.endswith(("opcode", "step"))
             ]  # fmt: skip
    assert chips
    for value in (1, 5, 9):
        for chip, name in chips:
            for simulation in pair.both:
                simulation.set_state(chip, name, value)
        pair.run(2)
        pair.tick()
        pair.tick()
        pair.run(300)
    pair.compare_states()


def test_microcode_edited_by_hand() -> None:
    """The control store is written anew while hot code runs: what was compiled of it holds no more."""
    model = model_of(DUNLIN, DUNLIN / "programs" / "sort.asm")
    assert model.statements.microprogram is not None
    pair = pair_of(model, seed=9)
    pair.run(900)
    before = pair.compiled.hot_clocks
    chip = model.statements.microprogram.store[0]
    image = bytes(max(0, cell) for cell in pair.oracle.memory(chip))
    shifted = image[64:] + image[:64]
    for simulation in pair.both:
        simulation.write_memory(chip, shifted)
    pair.run(500)
    for simulation in pair.both:
        simulation.write_memory(chip, image)
    pair.run(900)
    pair.compare_states()
    assert pair.compiled.hot_clocks > before


def test_a_probe_holds_a_net_of_the_sequencing() -> None:
    model = model_of(DUNLIN, DUNLIN / "programs" / "primes.asm")
    pair = pair_of(model, seed=10)
    pair.run(700)
    line = model.netlist.lines[0].net
    for level in (1, 0, None):
        for simulation in pair.both:
            simulation.force(line, level)
        pair.run(400)
    pair.compare_states()


def test_watching_runs_hot_and_stops_where_general_code_does() -> None:
    model = model_of(DUNLIN, DUNLIN / "programs" / "primes.asm")
    contents = waking_bytes(model, rom_bytes(model))
    net = model.netlist.lines[0].net
    ends = []
    for heat in (None, early(model)):
        engine = CompiledEngine(model.netlist, contents, seed=11, heat=heat)
        engine.worth_it = 1
        engine.run(10)
        registers = dict(model.statements.registers)
        watch = Watch(conditions=((registers["acc"], 17),), changing=())
        found = []
        for _ in range(3000):
            if not engine.skip(watch, 50):
                engine.run(1)
            found.append((engine.clocks, engine.read(registers["acc"])))
        ends.append((engine.clocks, found[-1], engine.value(net)))
        if heat is not None:
            assert engine.hot_clocks > 1000
    assert ends[0] == ends[1]


def test_a_terminal_on_hot_code(tmp_path: Path) -> None:
    """Lapwing with a serial port that its program asks for its status without end, typed to now and then."""
    write_machine(tmp_path)
    model = model_of(tmp_path, tmp_path / "terminal.asm")
    contents = waking_bytes(model, rom_bytes(model))
    general = CompiledEngine(model.netlist, contents, seed=3)
    hot = CompiledEngine(model.netlist, contents, seed=3, heat=early(model, 5_000, 1_000))
    said: list[list[tuple[str, bytes]]] = [[], []]
    for engine, heard in zip((general, hot), said, strict=True):
        engine.hear(lambda name, data, heard=heard: heard.append((name, data)))  # type: ignore[misc]
        for stated in model.statements.devices:
            engine.attach(made(stated))
    for clocks in (7_000, 60_000, 1, 33_333):
        for engine in (general, hot):
            engine.send("line", b"gull")
            engine.send("panel", b"keys=3")
            engine.run(clocks)
        assert states(hot) == states(general)
        assert (hot.ticks, hot.clocks, hot.time_ps) == (general.ticks, general.clocks, general.time_ps)
    assert said[0] == said[1]
    assert b"sum " in b"".join(data for name, data in said[0] if name == "line")
    assert hot.hot_clocks > 50_000
