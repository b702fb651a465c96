"""Two lines of one decoder asked for in one step.

What it finds
    A step that asks for two control lines which the same decoder chip sets. A decoder sets one output at a time, so
    no control word can do both.

Why it matters
    The step can't be burned into any ROM. On the bench one of the two lines would simply stay at rest.

Example
    With both lines on one 74HCT138:

        acc_show, ram_show, index_take

What to do
    Spread the two over two steps. If they have to be active together, lead one of them from a free bit of the control
    word or from another decoder; `latchwork spare` tells what is free.

Sources
    Function table of the 74HC138, NXP: one output is low at a time. That lines which never meet share a decoder is
    common practice.
"""

CODE = "U203"
