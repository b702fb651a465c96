start:  nothing
.next:  nothing
.next:  nothing
start:  nothing
limit = 3
limit = 4
        .macro bump
        nothing
        .endmacro
        .macro bump
        .endmacro
