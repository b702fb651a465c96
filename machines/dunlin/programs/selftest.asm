; Tests both registers, every instruction and the RAM from `first` to 255. The lamps count the groups as they begin;
; a test that fails halts with the number of its group on the lamps, a clean machine ends with all lamps lit.

first = 4                       ; the cells below are used by the test itself

        .section ram
cell:   .reserve 1
other:  .reserve 1
pair:   .reserve 2

        .macro expect value     ; the accumulator holds `value`
        compare acc, #value
        branch  not zero, failed
        .endmacro

        .macro expect_index value
        compare index, #value
        branch  not zero, failed
        .endmacro

        .section rom
start:  clear   acc             ; power-up contents are anybody's guess
        clear   index

        output  #1              ; jumps and the zero flag
        branch  not zero, failed
        branch  zero, .zero_jumps
        jump    failed
.zero_jumps:
        load    acc, #1
        branch  zero, failed
        branch  not zero, .not_zero_jumps
        jump    failed
.not_zero_jumps:
        jump    .jumps
        halt
.jumps:
        output  #2              ; the negative flag
        branch  negative, failed
        load    acc, #$80
        branch  not negative, failed
        branch  negative, .negative_jumps
        jump    failed
.negative_jumps:
        load    acc, #$7f
        branch  not negative, .not_negative_jumps
        jump    failed
.not_negative_jumps:
        output  #3              ; the carry flag
        set     carry
        branch  not carry, failed
        branch  carry, .carry_jumps
        jump    failed
.carry_jumps:
        clear   carry
        branch  carry, failed
        branch  not carry, .not_carry_jumps
        jump    failed
.not_carry_jumps:
        output  #4              ; constants reach both registers
        load    acc, #$55
        expect  $55
        load    acc, #$aa
        expect  $aa
        load    index, #$55
        expect_index $55
        load    index, #$aa
        expect_index $aa
        clear   acc
        expect  0
        clear   index
        expect_index 0

        output  #5              ; from register to register
        load    acc, #$3c
        move    index, acc
        expect_index $3c
        load    acc, #0
        move    acc, index
        expect  $3c

        output  #6              ; counting, across the middle of the byte and around its end
        load    acc, #$0f
        inc     acc
        expect  $10
        dec     acc
        expect  $0f
        load    acc, #$ff
        inc     acc
        branch  not zero, failed
        dec     acc
        expect  $ff
        load    index, #$7f
        inc     index
        branch  not negative, failed
        expect_index $80
        dec     index
        expect_index $7f

        output  #7              ; addition and its carry
        load    acc, #$9c
        add     #$64
        branch  not carry, failed
        expect  0
        clear   carry
        load    acc, #$12
        addc    #$34
        expect  $46
        set     carry
        load    acc, #$12
        addc    #$34
        expect  $47

        output  #8              ; subtraction
        load    acc, #$40
        sub     #$01
        branch  not carry, failed
        expect  $3f
        load    acc, #$01
        sub     #$02
        branch  carry, failed
        expect  $ff
        clear   carry
        load    acc, #$10
        subc    #$01
        expect  $0e
        set     carry
        load    acc, #$10
        subc    #$01
        expect  $0f

        output  #9              ; logic
        load    acc, #%11001010
        and     #%10101100
        expect  %10001000
        or      #%00010001
        expect  %10011001
        xor     #%11111111
        expect  %01100110
        invert
        expect  %10011001

        output  #10             ; shifts
        load    acc, #$81
        shift   left
        branch  not carry, failed
        expect  $02
        load    acc, #$81
        shift   right
        branch  not carry, failed
        expect  $40
        set     carry
        load    acc, #$40
        rotate  left
        branch  carry, failed
        expect  $81
        set     carry
        load    acc, #$02
        rotate  right
        branch  carry, failed
        expect  $81

        output  #11             ; RAM by a plain address
        load    acc, #$96
        store   acc, [cell]
        load    index, #$69
        store   index, [other]
        load    acc, [other]
        expect  $69
        load    index, [cell]
        expect_index $96
        add     [cell]
        expect  $ff
        clear   carry
        addc    [cell]
        expect  $95
        sub     [cell]
        expect  $ff
        set     carry
        subc    [cell]
        expect  $69
        or      [cell]
        expect  $ff
        and     [other]
        expect  $69
        xor     [other]
        expect  0
        compare acc, [cell]
        branch  carry, failed
        compare index, [cell]
        branch  not zero, failed

        output  #12             ; RAM by address and index
        load    index, #1
        load    acc, #$c3
        store   acc, pair[index]
        store   index, pair-1[index]
        load    acc, [pair]
        expect  1
        load    acc, [pair+1]
        expect  $c3
        add     pair-1[index]
        expect  $c4
        set     carry
        addc    pair-1[index]
        expect  $c6
        sub     pair[index]
        expect  $03
        clear   carry
        subc    pair-1[index]
        expect  $01
        or      pair[index]
        expect  $c3
        and     pair-1[index]
        expect  $01
        xor     pair[index]
        expect  $c2
        compare acc, pair[index]
        branch  carry, failed
        load    acc, pair[index]
        expect  $c3
        load    index, pair-1[index]
        expect_index 1
        output  [pair]          ; shows 1, 195: the output instructions by address
        output  pair[index]
        output  index

        output  #13             ; the keys can be read, whatever they say
        input
        store   acc, [cell]
        input
        compare acc, [cell]
        branch  not zero, failed
        branch  pressed, .held
        jump    .released
.held:  nothing
.released:
        output  #14             ; each cell of RAM keeps its own address, then its complement
        load    index, #first
.own:   store   index, 0[index]
        inc     index
        branch  not zero, .own
        load    index, #first
.check: move    acc, index
        compare acc, 0[index]
        branch  not zero, failed
        invert
        store   acc, 0[index]
        inc     index
        branch  not zero, .check
        load    index, #first
.again: move    acc, index
        invert
        compare acc, 0[index]
        branch  not zero, failed
        inc     index
        branch  not zero, .again

        load    acc, #$ff       ; all well
        output  acc
        halt

failed: halt                    ; the lamps name the group
