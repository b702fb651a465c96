        .macro put value, times=1
        .repeat times
        load  acc, #value
        .end
        .endmacro
        put
        put   1, 2, 3
        put   ,2
        put   300
        put   low(
