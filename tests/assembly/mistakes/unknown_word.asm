        laod  acc, #5
        wibble
        .bite 3
        put   4
start   nothing
