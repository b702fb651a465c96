"""Programs in a machine's chips: bytes at the pins where the wires put them. Outside reference: common practice."""

from pathlib import Path

import pytest
from instruction_sets import SMALL

from latchwork import HIGH, LOW, Machine
from latchwork.languages.assembly.assemble import assemble_file
from latchwork.languages.assembly.target import Place, target_of
from latchwork.load.program import assemble_program, program_contents
from latchwork.model import ControlProgram, Model
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all

FOLDER = Path("nowhere")


def machine(program_size: int = 0x800) -> Model:
    """A ROM with its address upside down and its data bits exchanged in pairs, and a RAM."""
    m = Machine("turned", family="HCT")
    pc, shown = m.bus("pc", 12), m.bus("shown", 8)
    pairs = [shown[bit ^ 1] for bit in range(8)]
    rom = m.chip("28C16", A=pc[0:11][::-1], D=pairs, CE_n=pc[11], OE_n=LOW, WE_n=HIGH)
    address, data, write_n = m.bus("address", 8), m.bus("data", 8), m.line("write_n")
    ram = m.chip("6116", A=[*address, LOW, LOW, LOW], D=data, CE_n=LOW, OE_n=LOW, WE_n=write_n)
    m.space("program", address=pc, data=shown, chips=[rom])
    m.space("cells", address=address, data=data, chips=[ram])
    m.section("rom", space="program", start=0, size=program_size)
    m.section("ram", space="cells", start=0, size=256)
    control = ControlProgram("steps", (), (), SMALL, (), ())
    return Model(FOLDER, m.netlist(), m.statements(), control)


def written(folder: Path, text: str) -> Path:
    file = folder / "program.asm"
    file.write_text(text)
    return file


def test_sections_are_the_machine_s() -> None:
    places = target_of(machine()).places
    assert places == (Place("rom", "program", 0, 0x800, 8, 12), Place("ram", "cells", 0, 256, 8, 8))


def test_spaces_are_sections_where_none_are_stated() -> None:
    model = machine()
    m = Machine("plain")
    address, data = m.bus("address", 11), m.bus("data", 8)
    rom = m.chip("28C16", A=address, D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    m.space("all", address=address, data=data, chips=[rom])
    plain = Model(FOLDER, m.netlist(), m.statements(), model.control)
    assert target_of(plain).places == (Place("all", "all", 0, 0x800, 8, 11),)


def test_bytes_go_where_the_wires_put_them(tmp_path: Path) -> None:
    text = "start: load acc, #$12\n jump start\n .section ram\ncount: .reserve 1\n"
    program = assemble_program(machine(), written(tmp_path, text))
    assert program.words["program"] == {0: 0x20, 1: 0x12, 2: 0x80, 3: 0}
    (image,) = program.contents.values()
    used = {cell: byte for cell, byte in enumerate(image) if byte != 0xFF}
    assert used == {0x000: 0x10, 0x400: 0x21, 0x200: 0x40, 0x600: 0x00}


def test_words_for_ram_are_refused(tmp_path: Path) -> None:
    with pytest.raises(LatchworkError) as caught:
        assemble_program(machine(), written(tmp_path, " nothing\n .section ram\n .reserve 3\n .byte 1, 2"))
    assert plain_all(caught.value.problems).replace(f"{tmp_path}/", "") == (
        "A171 a word at $3 of `cells`, where 6116 U2 forgets it\n  program.asm:4\n"
        "help: reserve the place with `.reserve`, and let the program fill it"
    )


def test_words_where_no_chip_answers_are_refused(tmp_path: Path) -> None:
    with pytest.raises(LatchworkError) as caught:
        assemble_program(machine(0x1000), written(tmp_path, " nothing\n .org $7fe\n .byte 1\n .byte 2, 3, 4"))
    assert plain_all(caught.value.problems).replace(f"{tmp_path}/", "") == (
        "A172 no memory answers at $800 of `program`\n  program.asm:4\n"
        "help: 2 words of the program would be lost; look at `m.section`"
    )


def test_a_program_without_words_fills_nothing(tmp_path: Path) -> None:
    model = machine()
    program = assemble_file(written(tmp_path, "; nothing yet\n"), target_of(model))
    assert program_contents(model, program) == {}
