end_of_it = 300
        .assert end_of_it < 256, "the table is too long"
        .assert end_of_it == here + 300, "never said"
        .assert end_of_it < 256
        .error "choose a size"
        .warning "this is slow"
