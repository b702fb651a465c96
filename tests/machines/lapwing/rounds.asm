; Every opcode of Lapwing: rounds of sums over memory with multiplying in between, and what the rounds leave out.
; Goes on until the lowest key is pressed, then halts.

        .section ram
table:  .reserve 64
copy:   .reserve 64
cell:   .reserve 1
product: .reserve 2
        .reserve 28
top:    .reserve 1

        .section rom
start:  nothing
        load    stack, #top
        clear
        store   [cell]
        output  spare
round:  load    [cell]
        inc
        store   [cell]
        output  lamps
        call    fill
        call    sum
        call    multiply
        call    bank
        call    shifts
        call    pointers
        input   keys
        and     #1
        branch  zero, round
        halt

; The table gets a series of bytes that hangs on the round.
fill:   load    x, #table
        load    r0, #64
        load    [cell]
.next:  add     #37
        store   [x]
        advance x
        push
        load    r0
        dec
        store   r0
        pull
        compare r0
        branch  zero, .on
.on:    push
        load    r0
        branch  not zero, .more
        pull
        return
.more:  pull
        jump    .next

; Copies the table, and adds it up in r2 (low) and r3 (high).
sum:    load    x, #table
        load    y, #copy
        load    r0, #64
        load    r2, #0
        load    r3, #0
        load    r4, #0
.next:  load    next [x]
        store   next [y]
        add     r2
        store   r2
        load    r3
        add     carry, r4
        store   r3
        load    r0
        subtract #1
        store   r0
        branch  not zero, .next
        load    r3
        output  spare
        return

; r5 times r6, the product in r2 (low) and r3 (high).
multiply:
        load    [table]
        store   r5
        load    [copy]
        store   r6
        load    r0, #8
        load    r2, #0
        load    r3, #0
        load    r4, #0
.next:  load    r2
        double
        store   r2
        load    r3
        rotate  left
        store   r3
        load    r6
        double
        store   r6
        branch  not carry, .on
        load    r2
        add     r5
        store   r2
        load    r3
        add     carry, r4
        store   r3
.on:    load    r0
        dec
        store   r0
        branch  not zero, .next
        load    r2
        store   [product]
        load    r3
        store   [product + 1]
        return

; Every register with everything that is done with one.
bank:   load    #1
        load    r0, #3
        add     r0
        add     carry, r0
        xor     r0
        store   r0
        load    r0
        subtract r0
        branch  carry, .on0
        halt
.on0:   or      r0
        and     r0
        compare r0
        branch  zero, .same0
        halt
.same0:
        load    r1, #20
        add     r1
        add     carry, r1
        xor     r1
        store   r1
        load    r1
        subtract r1
        branch  carry, .on1
        halt
.on1:   or      r1
        and     r1
        compare r1
        branch  zero, .same1
        halt
.same1:
        load    r2, #37
        add     r2
        add     carry, r2
        xor     r2
        store   r2
        load    r2
        subtract r2
        branch  carry, .on2
        halt
.on2:   or      r2
        and     r2
        compare r2
        branch  zero, .same2
        halt
.same2:
        load    r3, #54
        add     r3
        add     carry, r3
        xor     r3
        store   r3
        load    r3
        subtract r3
        branch  carry, .on3
        halt
.on3:   or      r3
        and     r3
        compare r3
        branch  zero, .same3
        halt
.same3:
        load    r4, #71
        add     r4
        add     carry, r4
        xor     r4
        store   r4
        load    r4
        subtract r4
        branch  carry, .on4
        halt
.on4:   or      r4
        and     r4
        compare r4
        branch  zero, .same4
        halt
.same4:
        load    r5, #88
        add     r5
        add     carry, r5
        xor     r5
        store   r5
        load    r5
        subtract r5
        branch  carry, .on5
        halt
.on5:   or      r5
        and     r5
        compare r5
        branch  zero, .same5
        halt
.same5:
        load    r6, #105
        add     r6
        add     carry, r6
        xor     r6
        store   r6
        load    r6
        subtract r6
        branch  carry, .on6
        halt
.on6:   or      r6
        and     r6
        compare r6
        branch  zero, .same6
        halt
.same6:
        load    r7, #122
        add     r7
        add     carry, r7
        xor     r7
        store   r7
        load    r7
        subtract r7
        branch  carry, .on7
        halt
.on7:   or      r7
        and     r7
        compare r7
        branch  zero, .same7
        halt
.same7:
        return

shifts: load    #$b5
        half
        rotate  right
        rotate  left
        invert
        compare #$80
        branch  negative, .on
        inc
.on:    store   r1
        input   spare
        xor     r1
        store   r1
        load    count low
        load    count high
        return

pointers:
        load    x, #table
        load    y, #copy
        advance y
        load    [y]
        store   [y]
        load    x low
        load    x high
        load    y low
        load    y high
        load    [x]
        return
