        .endif
        .else
        .elif 1
        .if   1
        .else
        .else
        .elif 2
        .end
        .repeat 2
        .endmacro
        .if   1
label:  .else
        .endif 5
        .repeat 2
        .macro inside
        .endmacro
        .end
        .if 1
        .else 1
        .end
        .macro open
        nothing
        .endmacro
        .if 0
        .else 1
        .end
