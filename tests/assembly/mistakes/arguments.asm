        .byte
        .byte 1,,2
        .org
        .org  1, 2
        .assert 1, message
        .error
        .error later
        .repeat 2, 5
        .end
        .ifdef 5
        .end
        .equ  name
        .align 2, 3, 4
        .incbin 5
        .if   1
        .else 2
        .end
