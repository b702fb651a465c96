"""Complaints that a microprogram's text cannot bring about, for the parser stands before them, or that take an odd
machine."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from turnstone import MACHINE, MICRO, complaint, written

from latchwork.base.position import Position
from latchwork.languages.microprogram.flat import Branch, FlatBlock, FlatProgram, FlatStep, Setting
from latchwork.languages.microprogram.lowering import lower
from latchwork.load.machine import LoadedMachine
from latchwork.model import MicroprogramBinding
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all


def step(*names: str) -> FlatStep:
    settings = tuple(
        Setting(name.partition("=")[0], name.partition("=")[2], Position("odd.micro", 7, column))
        for column, name in enumerate(names, start=1)
    )
    return FlatStep((Branch((), settings),))


def block(name: str, opcode: int, *steps: FlatStep) -> FlatBlock:
    return FlatBlock(
        "instruction",
        name,
        (step("one_show", "opcode_take"), *steps),
        (0xF, opcode),
        position=Position("odd.micro", 20 + ord(name[0]) - ord("a"), 1),
    )


def binding_of(machine: LoadedMachine) -> MicroprogramBinding:
    assert machine.statements.microprogram is not None
    return machine.statements.microprogram


def said(machine: LoadedMachine, *blocks: FlatBlock, binding: MicroprogramBinding | None = None) -> str:
    with pytest.raises(LatchworkError) as caught:
        lower(FlatProgram(blocks, (), ()), machine.netlist, binding or binding_of(machine))
    return plain_all(caught.value.problems).replace(f"{machine.folder}/", "")


def test_two_levels_for_one_line(tmp_path: Path) -> None:
    found = said(written(tmp_path), block("odd", 1, step("alu0=1", "alu0=0"), step("last")))
    assert found == (
        "U206 `alu0 = 1` and `alu0 = 0` ask for both levels of the line `alu0` in one step\n"
        "  odd.micro:7:2   0 here\n  odd.micro:7:1   1 here"
    )


def test_one_opcode_twice(tmp_path: Path) -> None:
    found = said(written(tmp_path), block("a", 1, step("last")), block("b", 1, step("alu0", "last")))
    assert found == (
        "U226 `a` and `b` both have the opcode 0001\n  odd.micro:21:1\n  odd.micro:20:1\n"
        "help: change the code of one of them"
    )


def test_a_store_without_memory(tmp_path: Path) -> None:
    machine = written(tmp_path)
    counter = next(i for i in range(len(machine.netlist.chips)) if machine.netlist.part_of(i).number == "163")
    found = said(machine, block("a", 1, step("last")), binding=replace(binding_of(machine), store=(counter,)))
    assert found == (
        "U222 74HCT163 is no memory whose address and data stand at pins\n"
        '  machine.py:39:1\n      m.microprogram("turnstone.micro", store=[low, high], opcode=opcode, '
        'conditions={"carry": carry, "zero": zero})\n      ^'
    )


def test_unknown_names(tmp_path: Path) -> None:
    found = said(written(tmp_path), block("a", 1, step("lost", "last")))
    assert found == "U120 the machine has no line `lost`\n  odd.micro:7:1\nhelp: did you mean `last`?"


def test_too_many_bits_together(tmp_path: Path) -> None:
    """Two more ROMs, whose sixteen bits meet in one line together with three others and a flag."""
    others = [
        f'm.chip("28C16", label="{name}", A=address, D=m.bus("{name}", 8), **rom)' for name in ("third", "fourth")
    ]
    wide = MACHINE.replace("\nhigh = ", f"\nthird = {others[0]}\nfourth = {others[1]}\nhigh = ")
    gates = """
m.gate("nor", extra, m.gate("nand", *third.D), m.gate("nand", *fourth.D), out=more)
m.gate("nor", flags_take_n, more, carry, out=m.line("mixed"))"""
    wide = wide.replace('\nm.gate("inverter", extra, out=more)', gates)
    text = complaint(written(tmp_path, wide.replace("store=[low, high]", "store=[low, high, third, fourth]"), MICRO))
    assert text == (
        "U208 18 bits of the control word and 1 level from elsewhere (conditions, opcode, interrupt) decide the "
        "control lines `flags_take`, `extra_more` and `mixed` together; Latchwork tries out every combination, "
        "of 18 at most\n  machine.py:17:16\n  machine.py:37:8\n"
        "help: wire these lines so that fewer bits of the control word reach each of them; state what is constant with "
        "`m.assume`, or with phase={...} when a line takes effect"
    )


def test_no_instructions_at_all(tmp_path: Path) -> None:
    assert said(written(tmp_path)) == (
        "U227 the microprogram of the machine has no instructions\n"
        '  machine.py:39:1\n      m.microprogram("turnstone.micro", store=[low, high], opcode=opcode, '
        'conditions={"carry": carry, "zero": zero})\n      ^'
    )
