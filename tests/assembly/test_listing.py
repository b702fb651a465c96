"""The listing and the symbol table, whole."""

from instruction_sets import TARGET

from latchwork.languages.assembly.assemble import assemble_text
from latchwork.languages.assembly.listing import listing, symbol_table

TEXT = """\
; a small program
size = 3
        .section ram
list:   .reserve size
        .section rom
        .macro put value
        load acc, #value        ; twice
        store acc, [list]
        .endmacro
start:  put 5
        branch carry, start
        .text "seven letters"
        .if size > 5
        nothing
        .else
        jump start
        .end
"""
LISTED = """\
; text.asm
address  words              clocks   line  source
                                        1  ; a small program
                                        2  size = 3
                                        3          .section ram
; section ram
0000                                    4  list:   .reserve size
                                        5          .section rom
                                        6          .macro put value
; section rom
0000                                   10  start:  put 5
0000     20 05                   4      7  +         load acc, #5
0002     26 00                   4      8  +         store acc, [list]
0004     91 fa                 3-4     11          branch carry, start
0006     73 65 76 65 6e 20             12          .text "seven letters"
000c     6c 65 74 74 65 72
0012     73
                                       13          .if size > 5
                                       15          .else
0013     80 00                   3     16          jump start
                                       17          .end
"""


def test_the_listing() -> None:
    assert listing(assemble_text(TEXT, TARGET)) == LISTED


def test_the_symbol_table() -> None:
    assert symbol_table(assemble_text(TEXT, TARGET)) == (
        "list      $0000  data        text.asm:4:1\n"
        "size      $0003  constant    text.asm:2:1\n"
        "start     $0000  program     text.asm:10:1\n"
    )


def test_lines_are_found_by_address() -> None:
    program = assemble_text(TEXT, TARGET)
    assert [program.position_at("program", address).line for address in (0, 1, 4, 0x12, 0x14)] == [7, 7, 11, 12, 16]  # type: ignore[union-attr]
    assert program.position_at("program", 0x15) is None
    assert program.label_at("program", 0) == "start"
    line = program.line_at("program", 4)
    assert line is not None
    assert line.clocks == (3, 4)
