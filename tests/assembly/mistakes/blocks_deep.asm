        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .if 1
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
        .end
