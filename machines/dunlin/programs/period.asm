; Shifts sixteen bits, fed back by the taps 16, 14, 13, 11, from 1 until they are 1 again, and counts the steps. The
; period of such a register is all numbers but 0: 65,535. Shows the count, high byte first: 255, 255.

taps = $b4                      ; of the high byte; the low one has none

        .section ram
high:   .reserve 1
low:    .reserve 1
steps_high: .reserve 1
steps_low: .reserve 1

        .section rom
start:  clear   acc
        store   acc, [high]
        store   acc, [steps_high]
        store   acc, [steps_low]
        inc     acc
        store   acc, [low]
.next:  load    index, [steps_low]
        inc     index
        store   index, [steps_low]
        branch  not zero, .shift
        load    index, [steps_high]
        inc     index
        store   index, [steps_high]
.shift: load    acc, [high]
        shift   right
        store   acc, [high]
        load    acc, [low]
        rotate  right
        store   acc, [low]
        branch  not carry, .look
        load    acc, [high]
        xor     #taps
        store   acc, [high]
.look:  load    acc, [high]
        branch  not zero, .next
        load    acc, [low]
        compare acc, #1
        branch  not zero, .next
        output  [steps_high]
        output  [steps_low]
        halt
