.next:  nothing
.size = 3
        branch carry, .next
