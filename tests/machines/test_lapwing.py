"""Lapwing, the larger machine that speed is measured on: fixed text, checked, every opcode executed."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.cli.main import run
from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation
from latchwork.load.model import load_model
from latchwork.load.program import assemble_program
from latchwork.model import Model

LAPWING = Path(__file__).parent / "lapwing"
TEXTS = ("machine.py", "lapwing.micro", "rounds.asm")
HASH = "53bc2ffe98489bd93ba4337d3970089e8500b1846206754912e433f0577179e0"
"""SHA-256 of the three texts one after the other. Another text is another machine: measure anew, then state it anew."""

ONE_ROUND = 8_000
"""Clocks, from power-up, within which a round is over and the machine has halted."""


@pytest.fixture(scope="module")
def model() -> Model:
    plain = load_model(LAPWING)
    return plain.with_contents(dict(assemble_program(plain, LAPWING / "rounds.asm").contents))


def press(simulation: Simulation, key: int) -> None:
    chips = simulation.netlist.chips
    number = next(number for number, chip in enumerate(chips) if chip.label == f"ports.keys[{key}]")
    simulation.set_switch(number, True)


def test_the_text_is_the_one_that_was_measured() -> None:
    assert sha256(b"".join((LAPWING / name).read_bytes() for name in TEXTS)).hexdigest() == HASH


def test_the_machine_is_as_large_as_the_measurements_ask_for(model: Model) -> None:
    chips = [chip for chip in model.netlist.chips if chip.reference.startswith("U")]
    parts = [model.netlist.parts[chip.part].name for chip in chips]
    assert 90 <= len(chips) <= 130
    assert len(model.netlist.lines) >= 32
    assert sum(name.endswith("181") for name in parts) == 2
    assert sum(name.endswith("245") for name in parts) == 3
    assert [len(dict(model.statements.registers)[name]) for name in ("pc", "x", "y", "stack", "count")] == [16] * 5


def test_check_finds_no_error(capsys: pytest.CaptureFixture[str]) -> None:
    run(["check", str(LAPWING)])
    output = capsys.readouterr().out
    assert "lapwing: 4 warnings by " in output
    assert output.count("W302 warning: 28C256") == 2, "two of them are levels of the ROMs into 74AC169"
    assert "error" not in output


def test_every_opcode_is_executed_and_both_engines_end_alike(model: Model) -> None:
    assert model.control is not None
    defined = {code for code, block in model.control.opcodes if block != "other opcodes"}
    assert len(defined) == 128
    contents = waking_bytes(model, rom_bytes(model))
    engine, oracle = CompiledEngine(model.netlist, contents), Oracle(model.netlist, contents)
    for simulation in (engine, oracle):
        press(simulation, 0)
    registers, seen = dict(model.statements.registers), set()
    for _ in range(ONE_ROUND):
        engine.run(1)
        if engine.read(registers["step"]) == 1:
            seen.add(engine.read(registers["opcode"]))
    oracle.run(ONE_ROUND)
    assert seen == defined
    halt = model.statements.halts[0]
    assert engine.value(halt.net) == halt.level
    nets = range(len(model.netlist.nets))
    assert [engine.value(net) for net in nets] == [oracle.value(net) for net in nets]
    ram = next(number for number, chip in enumerate(model.netlist.chips) if chip.label == "memory.ram")
    assert engine.memory(ram) == oracle.memory(ram)
    assert not engine.incidents
    assert not oracle.incidents


def test_the_product_and_the_sum_are_right(model: Model) -> None:
    """Worked out by hand: the table is a series with step 37 from 1 on, its first byte is squared."""
    engine = CompiledEngine(model.netlist, waking_bytes(model, rom_bytes(model)))
    press(engine, 0)
    engine.run(ONE_ROUND)
    table = [(1 + 37 * number) % 256 for number in range(1, 65)]
    ram = next(number for number, chip in enumerate(model.netlist.chips) if chip.label == "memory.ram")
    assert list(engine.memory(ram)[0:64]) == table
    assert list(engine.memory(ram)[64:128]) == table
    assert engine.cell(ram, 129) + 256 * engine.cell(ram, 130) == table[0] ** 2
    taken = next(number for number, chip in enumerate(model.netlist.chips) if chip.label == "ports.spare")
    assert engine.state(taken, "held") == sum(table) >> 8 & 255
