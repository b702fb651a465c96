"""Rows of a machine as a person has it: with its devices at work, and taken back in the debugger."""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from figures import Figure, spread
from lapwing import FOLDER

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.devices.made import made
from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.hot_clocks import Heat
from latchwork.load.model import load_model
from latchwork.load.program import assemble_program
from latchwork.tools.debug import Session
from latchwork.tools.run.running import Running

sys.path.append(str(FOLDER.parent / "lapwing_terminal"))
from terminal_machine import write_machine

CLOCKS = 10_000_000
MILLION = 1_000_000
RUNS = 5


def with_devices() -> Figure:
    """Clocks a second over two million, with a serial port of 9600 bits a second that the program asks for its status
    without end and prints to as fast as it goes, and a panel."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_machine(folder)
        model = load_model(folder)
        model = model.with_contents(dict(assemble_program(model, folder / "terminal.asm").contents))
    microprogram = model.statements.microprogram
    assert microprogram is not None
    engine = CompiledEngine(model.netlist, waking_bytes(model, rom_bytes(model)), heat=Heat(microprogram))
    said: list[bytes] = []
    engine.hear(lambda device, data: said.append(data))
    for stated in model.statements.devices:
        engine.attach(made(stated))
    while engine.hot_clocks < CLOCKS:
        engine.run(MILLION)
    factors = []
    for _ in range(RUNS):
        before, start = len(said), time.perf_counter()
        engine.run(CLOCKS)
        factors.append(CLOCKS / (time.perf_counter() - start) / 2_000_000)
        if len(said) - before < CLOCKS // 2500:
            raise RuntimeError("the line was not at work all the time")
    found = spread("engine.realtime_factor", factors, "times", "higher", 5)
    return {**found, "note": "printing at 9600 bits a second, asking for the status in a loop; a panel with lamps"}


def back_a_million() -> Figure:
    """Seconds for each million of clocks back, from the end of a run of 12 million. At the end it goes forward again,
    and comes to the same states."""
    model = load_model(FOLDER)
    running = Running(model)
    running.load(FOLDER / "rounds.asm")
    session = Session(running)
    session.forward(12 * MILLION, "clock")
    end = _states(running)
    waits = []
    for _ in range(9):
        start = time.perf_counter()
        session.back(MILLION, "clock")
        waits.append(time.perf_counter() - start)
    session.forward(9 * MILLION, "clock")
    if _states(running) != end:
        raise RuntimeError("going forward again it comes to another end")
    found = spread("engine.back_million_clocks_s", waits, "s", "lower", 1)
    megabytes = session.horizon.bytes_used / 1_000_000
    return {**found, "note": f"nine times from clock 12,000,000; the moments take {megabytes:.1f} MB"}


def _states(running: Running) -> list[object]:
    engine = running.simulation
    chips = range(len(running.model.netlist.chips))
    memories = [(chip, m.name) for chip in chips for m in running.model.netlist.part_of(chip).behaviour.memories]
    values = [engine.value(net) for net in range(len(running.model.netlist.nets))]
    return [running.clocks, values, *(list(engine.memory(*each)) for each in memories)]
