"""Programs of any length, for measuring the speed of the assembler; they need nothing of Latchwork."""


def big_program(lines: int) -> str:
    """A program of so many lines, as mixed as people write them; for measuring the speed of the assembler."""
    block = """\
; block {n}: adds up a list
count{n} = {small} + 3
block{n}: load  acc, #count{n}*2
        clear  index
.next:  add    #low(table{n}) ^ $0f
        load   index, list+{small}[index]
        output #'a' + {small}   ; a letter
        store  acc, [{small}]
        branch not carry, .skip
        far    block{n}
        bump   {small}
.skip:  branch carry, .next
        jump   block{n} & $fff
table{n}: .byte {small}, $1f, %1010, 'x', "text"
        .word  table{n}
"""
    head = """\
list = 16
        .macro bump amount
        load   acc, #amount
.again: branch carry, .again
        .endmacro
"""
    size = block.count("\n")
    repeats = range((lines - head.count("\n")) // size)
    return head + "".join(block.format(n=n, small=n % 50) for n in repeats)
