        .text "no end
        .text "a" "b"
        .text "bell \a"
        .text "café"
        load acc, #'ab'
        load acc, #'a
        .text "a", ; comment
        load acc, #'\nb'
