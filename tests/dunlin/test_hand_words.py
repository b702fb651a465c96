"""Dunlin runs from control words that a person put together, instruction by instruction like the integer model."""

from __future__ import annotations

import random

from dunlin_model import DunlinModel
from dunlin_parts import DUNLIN, chip_labelled, dunlin, flat
from hand_words import images

from latchwork.engines.oracle import Oracle

CELL, LAMPS_MARK = 0x40, 0x5A


def hand_powered(rom: bytes, seed: int = 1) -> Oracle:
    netlist = dunlin().netlist
    contents = {chip_labelled(f"control{i}"): bytes(image) for i, image in enumerate(images(flat()))}
    contents[chip_labelled("program.rom")] = rom
    return Oracle(netlist, contents, seed=seed)


def random_program(rng: random.Random, length: int = 120) -> bytes:
    """Straight-line code: every instruction but halt and the jumps, after both registers and all flags are set."""
    code = [0x02, 0x03, 0x0C]
    plain = [0x00, *range(0x02, 0x0D), 0x0E, 0x0F, *range(0x10, 0x14)]
    wide = [*range(0x14, 0x17), *range(0x18, 0x1E), *range(0x20, 0x24), 0x30, 0x31, *range(0x40, 0x58)]
    for cell in range(256):  # power-up contents would differ from the model's
        code += [0x18, cell & 0xFF, 0x20, cell]
    for _ in range(length):
        opcode = rng.choice(plain + wide)
        code += [opcode, rng.randrange(256)] if opcode in wide else [opcode]
    return bytes([*code, 0x01])


def test_random_programs_agree_with_the_integer_model() -> None:
    for seed in range(3):
        rom = random_program(random.Random(seed))
        model = DunlinModel(rom + bytes([1]) * 16)
        oracle = hand_powered(rom, seed)
        model.run(10_000)
        oracle.run(3 * model.instructions + 8)
        nets = {name: oracle.read(dunlin().netlist.bus_named[name].nets) for name in ("acc", "index", "lamps")}
        assert nets == {"acc": model.acc, "index": model.index, "lamps": (model.lamps or [0])[-1]}, seed
        assert list(oracle.memory(chip_labelled("memory.ram")))[:256] == model.ram
        assert model.halted


def test_dunlin_is_where_the_tests_look() -> None:
    assert (DUNLIN / "machine.py").is_file()
