; Multiplies two bytes as the two small machines do, the highest bit of the multiplier first; shows the product on the
; lamps, high byte first. (The other multiply, in machines/dunlin/programs, goes from the lowest bit, for Dunlin can also
; shift to the right.)

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
start:  load    acc, #multiplicand
        store   acc, [factor]
        load    acc, #multiplier
        store   acc, [coming]
        load    acc, #0
        store   acc, [high]
        store   acc, [low]
        store   acc, [nought]
        load    acc, #8
        store   acc, [count]
.next:  load    acc, [low]      ; the product moves left
        shift   left
        store   acc, [low]
        load    acc, [high]
        rotate  left
        store   acc, [high]
        load    acc, [coming]   ; and the next bit of the multiplier comes out
        shift   left
        store   acc, [coming]
        branch  carry, .add
        jump    .on
.add:   load    acc, [low]
        add     [factor]
        store   acc, [low]
        load    acc, [high]
        addc    [nought]
        store   acc, [high]
.on:    load    acc, [count]
        dec     acc
        store   acc, [count]
        branch  not zero, .next
        load    acc, [high]
        output  acc
        load    acc, [low]
        output  acc
        halt
