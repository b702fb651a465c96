a = b + 1
b = c * 2
c = a - 1
        .byte a
