; Größe und Zähler: in comments any letter will do
größe = 5
        .section ram
zähler: .reserve 1
        .section rom
start:  loäd    acc, #5
        .bÿte   3
.löop:  jump    start
        .macro  tü x
        load    acc, #x
        .endmacro
        .ifdef  größe
        halt
        .endif
        .error  "überlauf"
        load    acc, #5 – 3
        load acc, #4
        .ascii  "a", µ
        halt
