zero_size = 0
        .byte 5 / zero_size
        .byte 7 % (2 - 2)
        .byte 1 << 65
        .byte 1 << -1
        .byte 99999999999999999999
        .byte $ffffffffffffffff * $ffffffffffffffff
        .align 0
        .reserve -1
        .repeat -2
        .end
        half = 1 / zero_size
        .byte half
