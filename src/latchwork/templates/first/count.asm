; Counts in steps of seven and shows each number on the lamps, until the sum no longer fits in eight bits.

stride = 7

        .section rom
start:  load    #0
.next:  output
        add     #stride
        branch  carry, .done
        jump    .next
.done:  halt
