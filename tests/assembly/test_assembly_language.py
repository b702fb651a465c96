"""What programs may be written with, and the words that come of it.

Outside reference: common practice of assemblers; expressions against the rules of C (ISO/IEC 9899, 6.5), which a small
evaluator of Python's own operators repeats here.
"""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from instruction_sets import TARGET

from latchwork.languages.assembly.assemble import assemble_file, assemble_text
from latchwork.languages.assembly.program import Program
from latchwork.languages.assembly.target import Place, Target
from latchwork.problems import LatchworkError, Severity
from latchwork.problems.terminal import plain_all


def assembled(text: str, **constants: int) -> Program:
    try:
        return assemble_text(text, TARGET, constants=constants)
    except LatchworkError as error:
        pytest.fail(plain_all(error.problems))


def rom(text: str, **constants: int) -> bytes:
    """The words from address 0, which have no gap."""
    words = assembled(text, **constants).words["program"]
    assert list(words) == list(range(len(words)))
    return bytes(words.values())


def values(*expressions: str) -> list[int]:
    """Values of expressions, read back from their 16 bits."""
    data = rom("start: .word " + ", ".join(expressions))
    return [int.from_bytes(data[at : at + 2], "little") for at in range(0, len(data), 2)]


# ---- expressions


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("10", 10),
        ("1_000", 1000),
        ("$ff", 255),
        ("0xFF", 255),
        ("%1010", 10),
        ("0b1010", 10),
        ("'a'", 97),
        (r"'\n'", 10),
        (r"'\''", 39),
        (r"'\x41'", 65),
        ("';'", 59),
        ("2 + 3 * 4", 14),
        ("(2 + 3) * 4", 20),
        ("7 / 2", 3),
        ("-7 / 2 & $ffff", 0xFFFD),
        ("-7 % 3 & $ffff", 0xFFFF),
        ("7 %2", 1),
        ("7 % %10", 1),
        ("1 << 4 | 1", 17),
        ("1 + 1 << 2", 8),
        ("6 & 3 == 3", 0),
        ("6 ^ 3", 5),
        ("~0 & $ff", 255),
        ("!5", 0),
        ("!0", 1),
        ("1 < 2", 1),
        ("2 <= 1", 0),
        ("3 != 3", 0),
        ("1 && 0 || 1", 1),
        ("0 && 1 / 0", 0),
        ("1 || 1 / 0", 1),
        ("low($1234)", 0x34),
        ("high($1234)", 0x12),
        ("<$1234", 0x34),
        (">$1234", 0x12),
        (">$1234 + 1", 0x13),
        ("start", 0),
        ("here + 1", 1),
        ("defined(start)", 1),
        ("defined(stop)", 0),
    ],
)
def test_expressions(text: str, value: int) -> None:
    assert values(text) == [value]


OPERATORS = {
    "+": lambda a, b: a + b,
    "-": lambda a, b: a - b,
    "*": lambda a, b: a * b,
    "&": lambda a, b: a & b,
    "|": lambda a, b: a | b,
    "^": lambda a, b: a ^ b,
    "<": lambda a, b: int(a < b),
    "==": lambda a, b: int(a == b),
    "&&": lambda a, b: int(bool(a) and bool(b)),
    "||": lambda a, b: int(bool(a) or bool(b)),
    ">": lambda a, b: int(a > b),
}
STRENGTH = [("||",), ("&&",), ("|",), ("^",), ("&",), ("==",), ("<", ">"), ("+", "-"), ("*",)]


def by_splitting(tokens: list[int | str]) -> int:
    """The value by splitting at the last operator of the weakest kind: another way than the assembler's."""
    for kind in STRENGTH:
        places = [at for at, token in enumerate(tokens) if token in kind]
        if places:
            at = places[-1]
            return OPERATORS[str(tokens[at])](by_splitting(tokens[:at]), by_splitting(tokens[at + 1 :]))
    return int(tokens[0])


@given(st.integers(0, 9), st.lists(st.tuples(st.sampled_from(sorted(OPERATORS)), st.integers(0, 9)), max_size=8))
def test_precedence(first: int, rest: list[tuple[str, int]]) -> None:
    tokens: list[int | str] = [first, *(token for pair in rest for token in pair)]
    text = " ".join(str(token) for token in tokens)
    assert values(f"({text}) & $ffff") == [by_splitting(tokens) & 0xFFFF]


# ---- labels and names


def test_local_labels_belong_to_the_last_label() -> None:
    assert rom("""
one:    nothing
.end:   jump .end
two:    nothing
.end:   jump .end
        jump one.end
        jump two.end
""") == bytes.fromhex("00 8001 00 8004 8001 8004")


def test_a_label_within_another_label_and_several_in_a_line() -> None:
    program = assembled(
        "table: .byte 1, 2\ntable.end: other: again: nothing\n.size = table.end - table\n .byte again.size"
    )
    assert program.words["program"][3] == 2
    assert {name: symbol.value for name, symbol in program.symbol_named.items()} == {
        "table": 0, "table.end": 2, "other": 2, "again": 2, "again.size": 2,
    }  # fmt: skip


def test_constants_may_look_ahead() -> None:
    assert rom("size = last - first\n .byte size\nfirst: .byte 1, 2, 3\nlast:\n") == bytes([3, 1, 2, 3])


def test_ways_to_write_a_constant() -> None:
    assert rom("a = 1\nb .equ 2\n .equ c, 3\n .byte a, b, c") == bytes([1, 2, 3])


def test_constants_from_outside() -> None:
    assert rom(" .byte size + 1", size=4) == b"\x05"


def test_names_of_functions_are_free() -> None:
    assert rom("high: nothing\nlow: jump high\n jump low") == bytes.fromhex("00 8000 8001")


# ---- instructions


def test_forms_are_found_by_their_words_and_marks() -> None:
    assert rom("""
        load  acc, #5
        LOAD  Index , # 5
        load  acc, [5]
        load  index, 4 + 1[index]
        add   (5)
        add   [ index + ]
        copy  1, (2) + 3
        far   $1234
        branch not carry, here
""") == bytes.fromhex("2005 2105 2205 2505 4105 42 440105 433412 92fe")


def test_negative_operands() -> None:
    assert rom(" load acc, #-1\n load acc, #-128\n load acc, #255") == bytes.fromhex("20ff 2080 20ff")


def test_relative_operands_reach_their_whole_range() -> None:
    near = rom("back: .fill 126\n branch carry, back\n branch carry, ahead\n .fill 127\nahead: nothing")
    assert near[126:130] == bytes([0x91, 0x80, 0x91, 0x7F])


# ---- data


def test_data() -> None:
    assert (
        rom(r"""
        .byte 1, -1, 'a', "bc", $ff
        .word $1234, -2
        .bigword $1234
        .text "high water at ", 0
        .ascii "a;b\"c\\"        ; a comment; with "quotes
        .asciz "hi\n"
        .fill 3, $55
        .fill 2
""")
        == b'\x01\xffabc\xff\x34\x12\xfe\xff\x12\x34high water at \x00a;b"c\\hi\n\x00\x55\x55\x55\x00\x00'
    )


def test_places() -> None:
    program = assembled("""
        .section ram
count:  .reserve 2
buffer: .space 16
        .section tables
        .byte 1
        .section rom
        nothing
        .align 4
        nothing
        .align 4, $ee
        .org  $20
        .byte here
        .section tables
        .byte 2
        .section ram
end:
""")
    assert program.words["program"] == {0: 0, 4: 0, 5: 0xEE, 6: 0xEE, 7: 0xEE, 0x20: 0x20, 0xE00: 1, 0xE01: 2}
    assert program.words["data"] == {}
    assert [program.symbol_named[name].value for name in ("count", "buffer", "end")] == [0, 2, 18]
    assert program.symbol_named["buffer"].space == "data"


def test_words_of_other_widths() -> None:
    """A memory of 12-bit words: one for a byte or a value, two for 16 bits."""
    target = Target((), (Place("rom", "program", 0, 16, 12, 4),))
    program = assemble_text(" .byte $abc, -1\n .word $1234\n .bigword $1234", target)
    assert list(program.words["program"].values()) == [0xABC, 0xFFF, 0x234, 0x001, 0x001, 0x234]


# ---- blocks


def test_conditions() -> None:
    text = """
        .if version == 1
        .byte 1
        .elif version == 2
        .if defined(extra) && extra
        .byte 21
        .else
        .byte 22
        .end
        .else
        .byte 3
        .endif
        .ifdef extra
        .byte 4
        .endif
        .ifndef extra
        .byte 5
        .endif
"""
    assert rom(text, version=1) == b"\x01\x05"
    assert rom(text, version=2) == b"\x16\x05"
    assert rom(text, version=2, extra=1) == b"\x15\x04"
    assert rom(text, version=9, extra=0) == b"\x03\x04"


def test_repeat_with_a_counter_and_labels_of_its_own() -> None:
    assert rom("""
start:  nothing
        .repeat 3, turn
.again: branch carry, .again
        .byte turn * 16
        jump  start
        jump  .out
        .endrepeat
.out:
""") == b"\x00" + b"".join(bytes([0x91, 0xFE, turn * 16, 0x80, 0, 0x80, 22]) for turn in range(3))


def test_macros() -> None:
    assert rom(
        """
        .macro put value, times = 1
        .repeat times
        load  acc, #value * 2           ; value in a comment
        .end
.wait:  branch carry, .wait
        .endmacro
        .macro twice what, target
        what
        what
        jump  target
        .endmacro
start:  put   1 + 2
.next:  put   3, 2
        twice nothing, .next
        twice set carry, start.next
        twice "put 1", .next
""".replace('        twice "put 1", .next\n', "")
    ) == bytes.fromhex("2006 91fe 2006 2006 91fe 00 00 8004 0b 0b 8004")


def test_macros_take_whole_operands_and_strings() -> None:
    assert (
        rom("""
        .macro both first, second
        load  acc, first
        load  index, second
        .byte "first", 'f'
        .endmacro
        .macro say text, end=0
        .text text, end
        .endmacro
        both  #1, [2]
        both  3[index], #low($1234)
        say   "a, b"
        say   "(", "]"
""")
        == bytes.fromhex("2001 2302") + b"firstf" + bytes.fromhex("2403 2134") + b"firstf" + b"a, b\0(]"
    )


def test_an_argument_is_held_together() -> None:
    assert rom(" .macro m a\n .byte a * 2, -a\n .end\nx = 1\n m x + 1\n m 5 - 3") == bytes([4, 254, 4, 254])


def test_labels_of_the_place_of_use_reach_through_macros() -> None:
    assert rom("""
        .macro inner target
.own:   jump target
        jump .own
        .end
        .macro outer target
.own:   inner .own
        inner target
        .end
start:
.own:   outer .own
""") == bytes.fromhex("8000 8000 8000 8004")


# ---- files


def test_files(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    (tmp_path / "main.asm").write_text('one = 1\r\n .include "parts/a.inc"\r\n .byte two\r\n')
    (tmp_path / "parts" / "a.inc").write_text(
        'two = one + 1\n .incbin "b.bin"\n .incbin "b.bin", 1\n .incbin "b.bin", 1, 1'
    )
    (tmp_path / "parts" / "b.bin").write_bytes(b"xyz")
    program = assemble_file(tmp_path / "main.asm", TARGET)
    assert bytes(program.words["program"].values()) == b"xyzyzy\x02"
    where = program.position_at("program", 4)
    assert where is not None
    assert (Path(where.file).name, where.line) == ("a.inc", 3)


def test_warnings_do_not_stop() -> None:
    program = assembled(' .if 1\n .warning "slow"\n .end\n nothing')
    (warning,) = program.warnings
    assert (warning.code, warning.severity, warning.message) == ("A162", Severity.WARNING, "slow")
    assert program.words["program"] == {0: 0}


def test_assertions_know_all_names() -> None:
    assert rom(' .assert end == 1, "long"\n nothing\nend:') == b"\x00"


def test_a_machine_without_a_place() -> None:
    with pytest.raises(LatchworkError) as caught:
        assemble_text("nothing", Target((), ()))
    assert caught.value.problems[0].code == "A170"
