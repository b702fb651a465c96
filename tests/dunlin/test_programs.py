"""Dunlin's programs on the chip-level machine: right results, nothing floating, power-up does not matter."""

from __future__ import annotations

import pytest
import sympy
from dunlin_model import DunlinModel
from dunlin_parts import DUNLIN, chip_labelled, flat
from hand_words import images

import latchwork
from latchwork.load.program import assemble_program
from latchwork.tools.run.running import Running


def finished(program: str, **options: int) -> Running:
    machine = latchwork.load(DUNLIN, **options)
    report = machine.run(f"programs/{program}.asm", clocks=40_000)
    assert report.stop == "halt"
    return machine


def integer_model(machine: Running, program: str) -> DunlinModel:
    """The instructions as plain arithmetic, with the program in its ROM."""
    words = assemble_program(machine.model, DUNLIN / "programs" / f"{program}.asm").words["rom"]
    return DunlinModel(bytes(words.get(address, 0xFF) for address in range(4096)))


def test_control_images_are_those_put_together_by_hand() -> None:
    contents = latchwork.load(DUNLIN).model.contents
    for number, image in enumerate(images(flat())):
        assert contents[chip_labelled(f"control{number}")] == bytes(image)


def test_primes_below_100() -> None:
    assert finished("primes").output("lamps") == list(sympy.primerange(100))


def test_multiply() -> None:
    high, low = finished("multiply").output("lamps")
    assert high << 8 | low == 200 * 123


def test_the_period_of_sixteen_bits() -> None:
    """The taps 16, 14, 13, 11 give every number but 0: 65,535 (tables of primitive polynomials; from memory)."""
    machine = latchwork.load(DUNLIN)
    report = machine.run("programs/period.asm", clocks=4_000_000)
    assert report.stop == "halt"
    assert machine.output("lamps") == [65_535 >> 8, 65_535 & 255]
    model = integer_model(machine, "period")
    model.run(1_000_000)
    assert model.lamps == machine.output("lamps")
    assert machine.instructions == model.instructions


def test_sort() -> None:
    listed = [77, 3, 250, 12, 12, 0, 199, 45, 128, 127, 255, 1]
    assert finished("sort").output("lamps") == sorted(listed)


@pytest.mark.slow
def test_the_machine_tests_itself() -> None:
    assert finished("selftest").output("lamps")[-1] == 255


@pytest.mark.parametrize("program", ["multiply", "primes", "sort"])
def test_chips_and_integers_agree(program: str) -> None:
    machine = finished(program, seed=5)
    model = integer_model(machine, program)
    model.run(100_000)
    assert (machine["acc"], machine["index"], machine["carry"]) == (model.acc, model.index, model.carry)
    assert machine.output("lamps") == model.lamps
    assert machine.instructions == model.instructions


def test_the_self_test_finds_a_wrong_instruction() -> None:
    """A machine whose control word for `add #n` has one bit turned must not call itself sound."""
    machine = latchwork.load(DUNLIN)
    control = next(row for row in machine.model.control.rows if row.block.startswith("add #n") and row.step == 2)
    chip = chip_labelled("control1")
    image = bytearray(machine.model.contents[chip])
    opcode, step = 0x40, 2
    assert control.settings
    image[opcode << 3 | step] ^= 1 << 3  # the highest function line
    changed = Running(machine.model.with_contents({chip: bytes(image)}))
    report = changed.run("programs/selftest.asm", clocks=40_000)
    assert report.stop == "halt"
    assert changed.output("lamps")[-1] != 255
