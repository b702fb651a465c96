start:  load  acc, #strat
.next:  branch carry, .nxt
other:  branch carry, .next
        jump  start.nex
        .byte lenght
length = 5
        .org  nowhere
        unused = missing + 1
