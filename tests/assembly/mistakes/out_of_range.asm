big = 300
        load  acc, #256
        load  acc, #-129
        load  acc, #big
        load  acc, [big - 600]
        jump  $1000
        copy  1, 256
