acc:    nothing
index = 3
here:   nothing
