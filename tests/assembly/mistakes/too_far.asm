start:  nothing
        .reserve 200
        branch carry, start
        branch not carry, ahead
        .reserve 128
ahead:  branch carry, 0
