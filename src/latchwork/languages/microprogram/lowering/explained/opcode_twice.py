"""An opcode defined twice.

What it finds
    Two blocks of the microprogram whose codes have an opcode in common, both places.

Why it matters
    The control store has room for one of them. Which instruction runs would depend on the order of the text.

Example
    The second code covers the first one, with the operand r being 1:

        instruction halt                      code 0000_0001
        instruction clear r    with r reg     code 0000_000r

What to do
    Give one of them another code; `latchwork spare` lists the opcodes that are free.

Sources
    Common practice.
"""

CODE = "U226"
