; Sorts the bytes of a list in RAM by exchanging neighbours until none is out of order, then shows them.

        .section ram
list:   .reserve 12
count = here - list
seen:   .reserve 1              ; a pass exchanged something
held:   .reserve 1

        .macro put value
        load    acc, #value
        store   acc, list[index]
        inc     index
        .endmacro

        .section rom
start:  clear   index
        put     77
        put     3
        put     250
        put     12
        put     12
        put     0
        put     199
        put     45
        put     128
        put     127
        put     255
        put     1

.pass:  clear   acc
        store   acc, [seen]
        clear   index
.pair:  load    acc, list+1[index]
        compare acc, list[index]
        branch  carry, .ordered         ; the second is not smaller
        store   acc, [held]             ; exchange them
        load    acc, list[index]
        store   acc, list+1[index]
        load    acc, [held]
        store   acc, list[index]
        load    acc, #1
        store   acc, [seen]
.ordered:
        inc     index
        compare index, #count-1
        branch  not zero, .pair
        load    acc, [seen]
        branch  not zero, .pass

        clear   index
.show:  output  list[index]
        inc     index
        compare index, #count
        branch  not zero, .show
        halt
