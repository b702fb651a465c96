        .byte 1 +
        .byte (1 + 2
        .byte 12ab
        .byte $
        .byte 5 5
        load acc, #
        load acc, #(2
        value = carry + 1
        .byte low(), 1
        .if
        .end
