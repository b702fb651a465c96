; Shows every prime below `limit` on the lamps, smallest first, by striking out multiples in RAM.

limit = 100                     ; at most 240

        .section ram
struck: .reserve limit          ; 1 where a smaller prime divides
prime:  .reserve 1
multiple: .reserve 1

        .section rom
start:  clear   acc
        clear   index
.clear: store   acc, struck[index]
        inc     index
        compare index, #limit
        branch  not zero, .clear

        load    index, #2
.next:  load    acc, struck[index]
        branch  not zero, .advance
        output  index
        store   index, [prime]
        move    acc, index
.strike:
        add     [prime]
        branch  carry, .struck          ; past 255
        compare acc, #limit
        branch  carry, .struck          ; past the limit
        store   acc, [multiple]
        load    index, [multiple]
        load    acc, #1
        store   acc, struck[index]
        load    acc, [multiple]
        jump    .strike
.struck:
        load    index, [prime]
.advance:
        inc     index
        compare index, #limit
        branch  not zero, .next
        halt
