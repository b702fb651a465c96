        .macro again
        again
        .endmacro
        again
        .include "endless.asm"
