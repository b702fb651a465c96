        load  ac, #5
        load  acc #5
        load  acc, 5
        load  acc, #5, 6
        load
        clear
        clear 5
        add   [indx+]
        nothing 1
        output #acc
        branch zero, 5
        copy  1
