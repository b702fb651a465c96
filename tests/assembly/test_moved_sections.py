"""Sections that are stored in ROM and run in RAM. Outside reference: common practice of assemblers."""

from pathlib import Path

import pytest
from instruction_sets import SMALL

from latchwork import HIGH, LOW, Machine
from latchwork.languages.assembly.assemble import assemble_text
from latchwork.languages.assembly.listing import symbol_table
from latchwork.languages.assembly.program import Program
from latchwork.languages.assembly.target import target_of
from latchwork.load.program import program_contents
from latchwork.model import ControlProgram, Model
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all, shown_position


def machine(load_start: int = 0x700) -> Model:
    """A ROM for text, a RAM of 256 words; the section `driver` runs in RAM from $80 and is stored in the ROM."""
    m = Machine("mover", family="HCT")
    pc, shown = m.bus("pc", 12), m.bus("shown", 8)
    rom = m.chip("28C16", A=pc[0:11], D=shown, CE_n=pc[11], OE_n=LOW, WE_n=HIGH)
    address, data, write_n = m.bus("address", 8), m.bus("data", 8), m.line("write_n")
    ram = m.chip("6116", A=[*address, LOW, LOW, LOW], D=data, CE_n=LOW, OE_n=LOW, WE_n=write_n)
    m.space("program", address=pc, data=shown, chips=[rom])
    m.space("cells", address=address, data=data, chips=[ram])
    m.section("rom", space="program", start=0, size=0x700)
    m.section("driver", space="cells", start=0x80, size=0x40, load_space="program", load_start=load_start)
    return Model(Path(), m.netlist(), m.statements(), ControlProgram("steps", (), (), SMALL, (), ()))


TEXT = """\
        load index, #driver.size
.next:  load acc, #low(driver.load)
        load acc, #driver.run - 1
        .word driver.load, twice
twice = 2 * driver.size
        .section driver
        nothing
entry:  clear acc
        .reserve 2
        jump entry
        .reserve 3
"""


def assembled(text: str, model: Model | None = None) -> Program:
    return assemble_text(text, target_of(model or machine()))


def said(action) -> list[str]:
    with pytest.raises(LatchworkError) as caught:
        action()
    return [f"{each.code} {each.position.line}: {each.message}" for each in caught.value.problems]


def test_labels_run_and_words_are_stored() -> None:
    program = assembled("first: nothing\n" + TEXT)
    assert program.symbol_named["entry"].value == 0x81
    assert program.labels["entry"] == ("cells", 0x81)
    assert program.words["cells"] == {0x80: 0, 0x81: 2, 0x84: 0x80, 0x85: 0x81}
    stored = {0x700: 0, 0x701: 2, 0x704: 0x80, 0x705: 0x81}
    assert {address: word for address, word in program.stored["program"].items() if address >= 0x700} == stored
    assert program.stored["cells"] == {}


def test_what_the_copy_loop_asks_for() -> None:
    """Six words from the section's start to the last that is filled: the reserved ones between count."""
    words = list(assembled("first: nothing\n" + TEXT).words["program"].values())
    assert words == [0, 0x21, 6, 0x20, 0x00, 0x20, 0x7F, 0x00, 0x07, 12, 0]


def test_an_empty_section_has_no_size() -> None:
    assert assembled(" .byte driver.size").words["program"] == {0: 0}


def test_bytes_of_the_chip() -> None:
    model = machine()
    program = assembled("first: nothing\n" + TEXT, model)
    (image,) = program_contents(model, program).values()
    assert image[0x700:0x708] == bytes([0, 2, 0xFF, 0xFF, 0x80, 0x81, 0xFF, 0xFF])


def test_words_that_are_stored_nowhere_are_told_at_their_line() -> None:
    model = machine(load_start=0x7FE)
    program = assembled("first: nothing\n" + TEXT, model)
    assert said(lambda: program_contents(model, program)) == ["A172 11: no memory answers at $802 of `program`"]


def test_symbols_are_in_the_table() -> None:
    rows = [row.split()[:3] for row in symbol_table(assembled("first: nothing\n" + TEXT)).splitlines()]
    assert [row for row in rows if row[0].startswith("driver")] == [
        ["driver.load", "$0700", "constant"],
        ["driver.run", "$0080", "constant"],
        ["driver.size", "$0006", "constant"],
    ]


def test_mistakes() -> None:
    assert said(lambda: assembled(" .fill driver.size")) == [
        "A112 1: `.fill` needs `driver.size` here, which is defined later"
    ]
    assert said(lambda: assembled("driver: nothing\n.size: nothing\n")) == ["A120 2: `driver.size` is defined twice"]
    with pytest.raises(LatchworkError) as caught:
        assembled("driver: nothing\n.size: nothing\n")
    text = plain_all(caught.value.problems)
    section = machine().statements.sections[1].position
    assert text.replace(shown_position(section), "machine.py:9:5") == (
        "A120 `driver.size` is defined twice\n  text.asm:2:1\n      .size: nothing\n      ^\n"
        "  machine.py:9:5   this section has a size of its own\n"
        '      m.section("driver", space="cells", start=0x80, size=0x40, load_space="program", load_start=load_start)\n'
        "      ^"
    )
    assert said(lambda: assembled("driver: nothing\n.load: nothing\n")) == ["A120 2: `driver.load` is defined twice"]
    assert said(lambda: assembled(" .byte drivr.size")) == ["A111 1: nothing defines `drivr.size`"]
