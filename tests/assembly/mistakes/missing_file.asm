        .include "not_there.inc"
        .incbin  "not_there.bin"
        .include nowhere
        .include "../mistakes"
