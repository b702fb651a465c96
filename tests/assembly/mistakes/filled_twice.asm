        .org  10
        .byte 1, 2, 3, 4
        .org  12
        jump  0
        .section tables
        .byte 1
        .section rom
        .org  $e00
        .byte 2
