"""What the sample microprogram becomes: blocks, codes, steps. Codes are checked against plain integers."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from latchwork.languages.microprogram.flat import FlatBlock, FlatProgram
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.model import Instruction
from latchwork.problems import LatchworkError

HERON = Path(__file__).with_name("heron.micro")


@pytest.fixture(scope="module")
def heron() -> FlatProgram:
    return parse_microprogram(HERON)


def block(program: FlatProgram, name: str) -> FlatBlock:
    return next(block for block in program.blocks if block.name == name)


def asked(block: FlatBlock) -> list[list[str]]:
    """What each step of a block asks, branch after branch."""
    return [
        [f"{s.name}={s.value}" if s.value else s.name for branch in step.branches for s in branch.settings]
        for step in block.steps
    ]


def coded(instruction: Instruction, values: dict[str, int]) -> list[int]:
    """The code words for operand values, from the runs of bits."""
    words = []
    for runs in instruction.code:
        word = 0
        for run in runs:
            bits = values[run.operand] >> run.low if run.operand else run.value
            word = word << run.width | bits & (1 << run.width) - 1
        words.append(word)
    return words


def test_blocks_of_the_sample(heron: FlatProgram) -> None:
    kinds = [block.kind for block in heron.blocks]
    assert (kinds.count("instruction"), kinds.count("entry"), kinds.count("illegal")) == (34, 1, 1)
    assert len({block.name for block in heron.blocks}) == len(heron.blocks)
    assert heron.source == str(HERON)


def test_choices_are_written_out(heron: FlatProgram) -> None:
    assert block(heron, "load index, #n").opcode == (0xFF, 0x41)
    assert asked(block(heron, "load index, #n"))[1][-3:] == ["index_take", "zero_take", "last"]
    assert asked(block(heron, "move index, acc"))[1] == ["acc_show", "index_take", "last"]


def test_shared_steps_and_macros_say_where_they_come_from(heron: FlatProgram) -> None:
    steps = block(heron, "add #n").steps
    assert [step.shared for step in steps] == ["fetch", "", "operate", "operate"]
    assert asked(block(heron, "add #n"))[2] == ["alu=plus", "result_take", "flags_take"]
    assert {b.steps[0] for b in heron.blocks if b.kind == "instruction"} == {steps[0]}


def test_a_group_of_lines_joins_a_step(heron: FlatProgram) -> None:
    assert asked(block(heron, "add #n"))[0] == ["pc_show", "rom_show", "pc_advance", "ir_take"]


def test_branches(heron: FlatProgram) -> None:
    step = block(heron, "branch above, to").steps[1]
    found = {branch.conditions: branch.settings[-1].name for branch in step.branches}
    assert found == {
        (("carry", 1), ("zero", 0)): "offset_take",
        (("carry", 1), ("zero", 1)): "last",
        (("carry", 0),): "last",
    }


def test_fields_rests_and_pins(heron: FlatProgram) -> None:
    alu = heron.fields[0]
    assert alu.lines == ("f3", "f2", "f1", "f0", "mode", "carry_in")
    assert dict(alu.values)["pass"] == (1, 1, 1, 1, 1, None)
    assert [(rest.name, rest.value) for rest in heron.rests] == [("alu", "pass"), ("ram_write", "0")]
    assert block(heron, "halt").pinned == 0x10


def test_operand_kinds(heron: FlatProgram) -> None:
    kinds = {o.kind.name: o.kind for i in heron.instructions for o in i.operands}
    assert (kinds["byte"].bits, kinds["byte"].low, kinds["byte"].high) == (8, -128, 255)
    assert (kinds["near"].low, kinds["near"].high, kinds["near"].relative) == (-128, 127, True)
    assert kinds["reg"].choices == (("acc", 0), ("index", 1))
    assert kinds["address"].high == 0xFFFF


def test_clocks_count_the_steps(heron: FlatProgram) -> None:
    clocks = {instruction.form: instruction.clocks for instruction in heron.instructions}
    assert clocks["nop"] == (2, 2)
    assert clocks["call to"] == (8, 8)


@pytest.mark.parametrize("to", [0, 0x1234, 0xFFFE])
def test_pieces_of_wide_operands(heron: FlatProgram, to: int) -> None:
    by_form = {instruction.form: instruction for instruction in heron.instructions}
    assert coded(by_form["jump to"], {"to": to}) == [0xC0, to & 0xFF, to >> 8]
    assert coded(by_form["call to"], {"to": to}) == [0xC1, to >> 8, to & 0xFF]


def test_letters_are_bits_highest_first(heron: FlatProgram) -> None:
    shift = next(i for i in heron.instructions if i.mnemonic == "shift")
    move = next(i for i in heron.instructions if i.mnemonic == "move")
    assert [coded(shift, {"c": c}) for c in range(8)] == [[0x78 + c] for c in range(8)]
    assert [coded(move, {"r": r, "s": s}) for r in (0, 1) for s in (0, 1)] == [[0x58], [0x59], [0x5A], [0x5B]]


def test_letters_may_be_apart_and_run_through_words() -> None:
    text = "operand n 6 bits\ninstruction go a with a n code a0a0_a0a0 a0a0_0000\n    nothing\n"
    (go,) = parse_microprogram(text).instructions
    for value in range(64):
        first, second = f"{value >> 2:04b}", f"{value & 3:02b}"
        assert coded(go, {"a": value}) == [int("0".join(first) + "0", 2), int("0".join(second) + "00000", 2)]


def test_a_word_of_another_width() -> None:
    text = "word 16\noperand n 12 bits\ninstruction go n with n n code 0101 n\n    nothing\n"
    assert parse_microprogram(text).blocks[0].opcode == (0xF000, 0x5000)


def test_masks_leave_numbers_open(heron: FlatProgram) -> None:
    assert block(heron, "shift c").opcode == (0xF8, 0x78)
    for one in heron.blocks:
        matches = [b for b in heron.blocks if b.kind == "instruction" and one.opcode[1] & b.opcode[0] == b.opcode[1]]
        assert one.kind != "instruction" or matches == [one]


def test_includes(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    (tmp_path / "main.micro").write_text(
        'include "parts/steps.micro"  # "quoted" # twice\nentry interrupt\n    fetch\n'
    )
    (tmp_path / "parts" / "steps.micro").write_text('include "more.micro"\nshared fetch\n    begin\n')
    (tmp_path / "parts" / "more.micro").write_text("shared begin\n    pc_show\n")
    program = parse_microprogram(tmp_path / "main.micro")
    assert asked(program.blocks[0]) == [["pc_show"]]
    assert [Path(source).name for source in program.sources] == ["main.micro", "steps.micro", "more.micro"]


def test_files_that_are_no_text(tmp_path: Path) -> None:
    (tmp_path / "rom.micro").write_bytes(b"\xff\xfe\x00")
    for path in (tmp_path / "rom.micro", tmp_path / "absent.micro", tmp_path):
        with pytest.raises(LatchworkError, match="U103"):
            parse_microprogram(path)


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_line_ends(heron: FlatProgram, end: str) -> None:
    program = parse_microprogram("\ufeff" + HERON.read_text().replace("\n", end))
    assert [b.name for b in program.blocks] == [b.name for b in heron.blocks]
    assert [b.position.line for b in program.blocks] == [b.position.line for b in heron.blocks]


def test_an_empty_text_is_an_empty_program() -> None:
    assert parse_microprogram("\n# nothing yet\n").blocks == ()


def test_lark_is_imported_late() -> None:
    code = "import sys, latchwork.languages.microprogram.parse; sys.exit('lark' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
