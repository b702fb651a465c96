"""Disassembled programs give the same words again, whatever the words are (a property, checked on random words)."""

from big_programs import big_program
from hypothesis import given
from hypothesis import strategies as st
from instruction_sets import TARGET

from latchwork.languages.assembly.assemble import assemble_text
from latchwork.languages.assembly.disassemble import Disassembler, disassembled
from latchwork.languages.assembly.target import Target

TEXT = """\
start:  load   acc, #5
.next:  add    (7)
        branch not carry, .next
        jump   start
        add    [index+]
        copy   1, $20
        .byte  $ff
        .org   $100
other:  branch carry, here + 5
        far    other
        .section tables
        output index
"""
BACK = """\
        .section rom
        .org    $0000
start:
        load    acc, #5
start.next:
        add     (7)
        branch  not carry, start.next
        jump    start
        add     [index +]
        copy    1, $20
        .byte   $ff
        .org    $0100
other:
        branch  carry, $105
        far     other
        .org    $0e00
        output  index
"""


def test_text_with_labels() -> None:
    program = assemble_text(TEXT, TARGET)
    assert disassembled(program, TARGET) == BACK
    assert assemble_text(BACK, TARGET).words == program.words


def test_labels_are_made_for_targets() -> None:
    program = assemble_text(" jump 4\n jump 2\n nothing", TARGET)
    assert disassembled(program, TARGET).splitlines()[2:] == [
        "        jump    rom_0004",
        "rom_0002:",
        "        jump    rom_0002",
        "rom_0004:",
        "        nothing",
    ]


@given(st.dictionaries(st.integers(0, 60) | st.integers(0xDF0, 0xE10), st.integers(0, 255), max_size=80))
def test_random_words_come_back(words: dict[int, int]) -> None:
    text = "".join(f" .org {address}\n .byte {word}\n" for address, word in words.items())
    program = assemble_text(text, TARGET)
    assert program.words["program"] == words
    assert assemble_text(disassembled(program, TARGET), TARGET).words == program.words


@given(st.permutations(TARGET.instructions), st.binary(min_size=1, max_size=40))
def test_in_any_order_of_the_forms(instructions: list, code: bytes) -> None:
    """Also where an earlier form would take the text of a later one: then the words stand as data."""
    target = Target(tuple(instructions), TARGET.places)
    program = assemble_text(" .byte " + ", ".join(str(byte) for byte in code), target)
    assert assemble_text(disassembled(program, target), target).words == program.words


def test_a_big_program_comes_back() -> None:
    program = assemble_text(big_program(600), TARGET)
    assert assemble_text(disassembled(program, TARGET), TARGET).words == program.words


def test_one_instruction() -> None:
    found = Disassembler(TARGET).run({0: 0x20, 1: 0xFF}, TARGET.places[0])
    assert [(one.address, one.text, one.words) for one in found] == [(0, "load    acc, #$ff", (0x20, 0xFF))]
