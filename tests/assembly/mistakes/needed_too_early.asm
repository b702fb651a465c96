        .reserve size
        .org   later
        .if    size > 3
        nothing
        .endif
        .repeat size
        nothing
        .endrepeat
size = 4
later:  nothing
