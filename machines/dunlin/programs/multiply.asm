; Multiplies two bytes by shifting and adding; shows the product on the lamps, high byte first.

multiplicand = 200
multiplier   = 123

        .section ram
factor: .reserve 1              ; the multiplicand
high:   .reserve 1              ; the product, which pushes the multiplier out
low:    .reserve 1

        .section rom
start:  clear   acc
        store   acc, [high]
        load    acc, #multiplicand
        store   acc, [factor]
        load    acc, #multiplier
        shift   right           ; the lowest bit of the multiplier is in the carry
        store   acc, [low]
        load    index, #8
.next:  load    acc, [high]
        branch  not carry, .turn
        add     [factor]
.turn:  rotate  right
        store   acc, [high]
        load    acc, [low]
        rotate  right           ; a bit of the product in, a bit of the multiplier out
        store   acc, [low]
        dec     index
        branch  not zero, .next
        output  [high]
        output  [low]
        halt
