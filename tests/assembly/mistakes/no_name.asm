        .equ 1st, 5
        .equ "a", 5
