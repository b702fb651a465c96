        .macro inner a
        load  acc, #a
        .endmacro
        .macro outer b
        inner b * 2
        .endmacro
start:  outer 200
        .repeat 2, turn
        .byte 255 + turn
        .end
