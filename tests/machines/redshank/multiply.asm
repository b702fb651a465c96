; Multiplies two bytes, the highest bit of the multiplier first; shows the product on the lamps, high byte first.

multiplicand = 200
multiplier   = 123

        .section ram
factor: .reserve 1              ; the multiplicand
coming: .reserve 1              ; bits of the multiplier still to come
high:   .reserve 1
low:    .reserve 1
count:  .reserve 1
nought: .reserve 1

        .section rom
start:  load    #multiplicand
        store   [factor]
        load    #multiplier
        store   [coming]
        load    #0
        store   [high]
        store   [low]
        store   [nought]
        load    #8
        store   [count]
.next:  load    [low]           ; the product moves left
        double
        store   [low]
        load    [high]
        double  carry
        store   [high]
        load    [coming]        ; and the next bit of the multiplier comes out
        double
        store   [coming]
        branch  carry, .add
        jump    .on
.add:   load    [low]
        add     [factor]
        store   [low]
        load    [high]
        add     carry, [nought]
        store   [high]
.on:    load    [count]
        dec
        store   [count]
        branch  not zero, .next
        load    [high]
        output
        load    [low]
        output
        halt
