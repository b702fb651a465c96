        .include "latin_1.inc"
