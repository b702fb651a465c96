"""What the engine is measured on: Lapwing and its program, beside two yardsticks in C, all with one end state."""

from __future__ import annotations

import ctypes
import time
from pathlib import Path
from typing import Any

from gcc_bit import Writer, compiled

from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.engines.compiled.engine import CompiledEngine
from latchwork.engines.compiled.hot_clocks import Heat
from latchwork.load.model import load_model
from latchwork.load.program import assemble_program

FOLDER = Path(__file__).resolve().parents[2] / "tests" / "machines" / "lapwing"
WARM = 20_000
"""Clocks before anything is measured: memory is filled, whole clocks are compiled."""

States = tuple[list[int], list[bytes]]
WORDS = ("pc", "x", "y", "stack", "count")


class Interpreted(ctypes.Structure):
    """``struct state`` of interpreter.c."""

    _fields_ = (
        ("clocks", ctypes.c_uint64),
        *((name, ctypes.c_uint16) for name in WORDS),
        *((name, ctypes.c_uint8) for name in ("acc", "carry", "zero", "negative", "lamps", "spare", "keys")),
        ("r", ctypes.c_uint8 * 8),
    )


class Lapwing:
    """Model and program, and ways to begin and to compare."""

    def __init__(self) -> None:
        model = load_model(FOLDER)
        self.model = model.with_contents(dict(assemble_program(model, FOLDER / "rounds.asm").contents))
        self.contents = waking_bytes(self.model, rom_bytes(self.model))
        self.registers = dict(self.model.statements.registers)

    def engine(self, *, hot: bool = False, aside: bool = False) -> CompiledEngine:
        """``hot``: clocks that come often are compiled for their control words as well; ``aside``: all is compiled
        beside the run, as for a person."""
        microprogram = self.model.statements.microprogram
        heat = Heat(microprogram) if hot and microprogram is not None else None
        return CompiledEngine(self.model.netlist, self.contents, heat=heat, aside=aside)

    def warm(self) -> CompiledEngine:
        """An engine that has come past the start, and stands before an instruction."""
        engine = self.engine()
        engine.run(WARM)
        while engine.read(self.registers["step"]) != 0:
            engine.run(1)
        return engine

    def chip(self, label: str) -> int:
        return next(number for number, chip in enumerate(self.model.netlist.chips) if chip.label == label)

    # End states

    @staticmethod
    def states(engine: CompiledEngine) -> States:
        wiring = engine._wiring
        slots = [engine.state(slot.chip, slot.name) or 0 for slot in wiring.slots]
        stores = [bytes(max(0, cell) for cell in engine.memory(s.chip, s.memory.name)) for s in wiring.stores]
        return slots, stores

    def interpreted(self, engine: CompiledEngine) -> tuple[dict[str, Any], bytes]:
        """What the interpreter knows of a machine, and its 64 KiB of memory."""
        found: dict[str, Any] = {name: engine.read(self.registers[name]) for name in (*WORDS, "acc", "carry")}
        found["zero"] = 1 - (engine.read(self.registers["zero_n"]) or 0)
        flags = engine.state(self.chip("arithmetic.flags"), "held") or 0
        found["negative"] = flags >> 1 & 1
        for name in ("lamps", "spare"):
            found[name] = engine.state(self.chip(f"ports.{name}"), "held")
        found["r"] = [engine.read(self.registers[f"r{number}"]) for number in range(8)]
        cells = [engine.memory(self.chip(f"memory.{name}")) for name in ("rom", "ram")]
        return found, bytes(max(0, cell) for part in cells for cell in part)


class GccBit:
    """The netlist's bits as C."""

    def __init__(self, lapwing: Lapwing, folder: Path) -> None:
        engine = lapwing.engine()
        slot = engine._main_oscillator
        assert slot is not None
        nets = engine._oracle._machine.nets
        self._ties = len(engine._wiring.ties)
        self._run = compiled(Writer(engine._wiring, nets.grouping, nets.choice, slot).text(), folder, "bits")

    def run(self, start: States, clocks: int) -> tuple[States, float]:
        """The end state, and the seconds that it took."""
        slots = (ctypes.c_uint64 * len(start[0]))(*start[0])
        stores = [(ctypes.c_uint8 * len(each)).from_buffer_copy(each) for each in start[1]]
        pointers = (ctypes.c_void_p * len(stores))(*map(ctypes.addressof, stores))
        ties, trouble = (ctypes.c_uint8 * max(1, self._ties))(), (ctypes.c_uint64 * 2)()
        began = time.perf_counter()
        self._run(slots, pointers, ties, ctypes.c_uint64(clocks), trouble)
        spent = time.perf_counter() - began
        if any(trouble):
            raise RuntimeError(f"the yardstick saw fights or loops that did not settle: {list(trouble)}")
        return (list(slots), [bytes(each) for each in stores]), spent


class Interpreter:
    """The instruction set by hand."""

    def __init__(self, folder: Path) -> None:
        text = (Path(__file__).parent / "interpreter.c").read_text(encoding="utf-8")
        self._run = compiled(text, folder, "interpreter", "interpret")

    def run(self, start: tuple[dict[str, Any], bytes], least: int) -> tuple[dict[str, Any], bytes, int, float]:
        """What it knows at the end, memory, clocks, seconds."""
        values = dict(start[0])
        state = Interpreted(**{**values, "r": (ctypes.c_uint8 * 8)(*values["r"])})
        memory = (ctypes.c_uint8 * 65536).from_buffer_copy(start[1])
        began = time.perf_counter()
        self._run(ctypes.byref(state), memory, ctypes.c_uint64(least))
        spent = time.perf_counter() - began
        end = {name: list(state.r) if name == "r" else getattr(state, name) for name in values}
        return end, bytes(memory), state.clocks, spent
