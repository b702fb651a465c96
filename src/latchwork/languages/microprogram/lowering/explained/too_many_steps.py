"""More steps than the counter holds.

What it finds
    A block with more steps than the step counter tells apart at the address of the control store.

Why it matters
    The counter would come round to 0 and begin the instruction again before its end.

Example
    With two bits of the step counter joined to the store, four steps can be told apart:

        instruction slow           code 0000_0001
            fetch
            nothing
            nothing
            nothing
            last

What to do
    Join another bit of the counter to an address pin of the store, or save a step: lines that do not stand in each
    other's way can share one.

Sources
    Common practice; a counter of n bits has 2**n states.
"""

CODE = "U230"
