        .macro
        .endmacro
        .macro 5
        .endmacro
        .macro load
        .endmacro
        .macro twice a, a
        .endmacro
        .macro wrong a b, 5
        .endmacro
