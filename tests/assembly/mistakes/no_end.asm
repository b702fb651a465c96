        .if   1
        .macro open
        nothing
