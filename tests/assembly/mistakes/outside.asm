        .section tables
        .org  $dff
        .org  $f01
        .org  -1
        .incbin "sample.bin", 2, 4
        .incbin "sample.bin", 9
