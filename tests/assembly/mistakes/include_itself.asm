        nothing
        .include "include_itself.asm"
