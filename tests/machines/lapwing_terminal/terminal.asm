; Sums the table over and over, and prints each sum to the terminal; what is typed comes back in between.
; The lowest bit of r7 is the address line of the serial port: 0 the byte, 1 the status.

        .section ram
table:  .reserve 64
sum:    .reserve 1
round:  .reserve 1
        .reserve 61
top:    .reserve 1

        .section rom
start:  load    stack, #top
        clear
        store   [round]
again:  load    [round]
        inc
        store   [round]
        output  lamps
        call    work
        load    x, #words
.text:  load    next [x]
        compare #0
        branch  zero, .number
        call    print
        jump    .text
.number: load   [sum]
        half
        half
        half
        half
        call    digit
        load    [sum]
        call    digit
        load    #10
        call    print
        call    answer
        jump    again

words:  .text   "sum "
        .byte   0

; Fills the table with a series that hangs on the round, and adds it up.
work:   load    y, #table
        load    r0, #64
        load    [round]
.fill:  add     #37
        store   next [y]
        store   r1
        load    r0
        subtract #1
        store   r0
        branch  zero, .add
        load    r1
        jump    .fill
.add:   load    x, #table
        load    r0, #64
        load    r2, #0
.next:  load    next [x]
        add     r2
        store   r2
        load    r0
        subtract #1
        store   r0
        branch  not zero, .next
        load    r2
        store   [sum]
        return

; The lowest four bits as a digit.
digit:  and     #15
        add     #48
        store   r3
        subtract #58
        branch  negative, .small
        load    r3
        add     #39
        jump    print
.small: load    r3

; A byte to the terminal, once there is room for it.
print:  store   r4
        load    r7, #1
.busy:  input   spare
        and     #2
        branch  zero, .busy
        load    r7, #0
        load    r4
        output  spare
        return

; One typed byte, if there is one, goes back.
answer: load    r7, #1
        input   spare
        and     #1
        branch  zero, .none
        load    r7, #0
        input   spare
        jump    print
.none:  return
