; The slowest ways through Dunlin: an index that moves the address from 0x78 to 0x80, a one where a zero was, a carry that
; runs through both slices into the flag, and a store to that address.

        .section rom
start:  load    acc, #0
        store   acc, [0x78]
        load    acc, #1
        store   acc, [0x80]
        load    index, #8
.again: load    acc, #0
        add     #0                      ; no carry
        load    acc, #255
        add     0x78[index]
        load    acc, #1
        store   acc, 0x78[index]
        jump    .again
