        .section rim
        .section tables
        .fill  200, 0
        .fill  100, 0
        .reserve 100
        .section
        .section ram
        .org   $100
        nothing
