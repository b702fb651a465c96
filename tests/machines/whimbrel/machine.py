"""Whimbrel: the control word holds the address of the next one, and a register delays it by a clock.

Nine address bits. The lowest comes from a selector: the word's own bit, or a flag, so that a step can be followed by
one of two. While the word asks for `choose`, the opcode takes the place of the lower eight bits, on a page of its own.
"""

from latchwork import HIGH, LOW, OPEN, Machine, pull_down

m = Machine("whimbrel", family="HCT", supply=5.0)

data = m.bus("data", 8, idle=pull_down("10k"))
opcode = m.bus("opcode", 8)
next_step = m.bus("next_step", 8)
micro = m.bus("micro", 8)
test = m.bus("test", 2)
pc = m.bus("pc", 8)
where = m.bus("where", 8)
acc = m.bus("acc", 8)
total = m.bus("total", 8)
entry = m.bus("entry", 8)
lamps = m.bus("lamps", 8)
carry = m.net("carry")
zero_n = m.net("zero_n")
show_code = m.bus("show_code", 2)
take_code = m.bus("take_code", 3)


def line_names(names):
    """Control lines, one for each word of `names`."""
    return [m.line(name) for name in names.split()]


show = line_names("program_show_n memory_show_n acc_show_n")
take = line_names("opcode_take_n pc_take_n where_take_n acc_take_n lamps_take_n memory_write_n")
choose, halt, sum_take, carry_use, flags_take, pc_advance = line_names(
    "choose halt sum_take carry_use flags_take pc_advance"
)
program_show_n, memory_show_n, acc_show_n = show
opcode_take_n, pc_take_n, where_take_n, acc_take_n, lamps_take_n, memory_write_n = take

with m.board("clock"):
    clock = m.clock(1_000_000)
    reset_n = m.power_on_reset()
    reset = m.gate("inverter", reset_n, name="reset")
    word_clock = m.gate("or", clock, halt, name="word_clock")  # stands still once the machine has halted

with m.board("sequencer", title="Control store, control register, next address"):
    rom = {"CE_n": LOW, "OE_n": LOW, "WE_n": HIGH}
    words = [next_step, [*test, *show_code, *take_code, choose], [halt, sum_take, carry_use, flags_take, pc_advance]]
    addresses = [[*micro, choose], [choose, *micro], [*micro[::-1], choose]]
    store = []
    for number, (word, address) in enumerate(zip(words, addresses, strict=True)):
        spare = 8 - len(word)
        coming = m.bus(f"coming{number}", len(word))
        shown = [*coming, *[OPEN] * spare]
        store.append(m.chip("28C16", label=f"control{number}", A=[*address, LOW, LOW], D=shown, **rom))
        held = [*word, *[OPEN] * spare]
        m.chip("273", label=f"word{number}", CLK=word_clock, CLR_n=reset_n, D=[*coming, *[LOW] * spare], Q=held)
    lowest = m.chip(
        "153", label="test", A=test[0], B=test[1], G1_n=LOW, C1=[next_step[0], carry, zero_n, HIGH],
        G2_n=HIGH, C2=[LOW] * 4, Y2=OPEN,
    ).Y1  # fmt: skip
    m.chip("157", label="micro0", S=choose, G_n=LOW, A=[lowest, *next_step[1:4]], B=opcode[0:4], Y=micro[0:4])
    m.chip("157", label="micro4", S=choose, G_n=LOW, A=next_step[4:8], B=opcode[4:8], Y=micro[4:8])
    m.chip("377", label="opcode", CLK=clock, G_n=opcode_take_n, D=data, Q=opcode)
    m.chip(
        "139", label="show", A1=show_code[0], B1=show_code[1], G1_n=LOW, Y1_0=OPEN, Y1_1=show[0], Y1_2=show[1],
        Y1_3=show[2],
    )  # fmt: skip
    m.chip("138", label="take", S=take_code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[OPEN, *take, OPEN])

with m.board("program"):
    chain = HIGH
    for digit in range(2):
        part = slice(4 * digit, 4 * digit + 4)
        counter = m.chip(
            "161", label=f"pc{digit}", CLK=clock, CLR_n=reset_n, LOAD_n=pc_take_n, P=data[part],
            ENP=pc_advance, ENT=chain, Q=pc[part],
        )  # fmt: skip
        chain = counter.RCO
    program = m.chip("28C16", label="program", A=[*pc, LOW, LOW, LOW], D=data, CE_n=LOW, OE_n=program_show_n, WE_n=HIGH)

with m.board("memory"):
    m.chip("377", label="where", CLK=clock, G_n=where_take_n, D=data, Q=where)
    write_n = m.gate("or", memory_write_n, clock, name="write_n")  # only in the second half of the clock
    memory = m.chip(
        "6116", label="memory", A=[*where, LOW, LOW, LOW], D=data, CE_n=LOW, OE_n=memory_show_n, WE_n=write_n
    )

with m.board("accumulator"):
    m.chip("377", label="acc", CLK=clock, G_n=acc_take_n, D=entry, Q=acc)
    m.chip("541", label="acc", A=acc, Y=data, G1_n=acc_show_n, G2_n=LOW)
    for low in (0, 4):
        part = slice(low, low + 4)
        m.chip("157", label=f"entry{low}", S=sum_take, G_n=LOW, A=data[part], B=total[part], Y=entry[part])
    carry_in = m.gate("and", carry, carry_use)
    low_half = m.chip("283", label="low", A=acc[0:4], B=data[0:4], C0=carry_in, S=total[0:4])
    high_half = m.chip("283", label="high", A=acc[4:8], B=data[4:8], C0=low_half.C4, S=total[4:8])
    zero_now_n = m.chip("688", label="zero", P=entry, Q=[LOW] * 8, G_n=LOW).PQ_n
    m.chip(
        "173", label="flags", CLK=clock, CLR=reset, G1_n=m.gate("inverter", flags_take), G2_n=LOW, M=LOW, N=LOW,
        D=[high_half.C4, zero_now_n, LOW, LOW], Q=[carry, zero_n, OPEN, OPEN],
    )  # fmt: skip
    for start in (0, 4):  # dark after reset
        part = slice(start, start + 4)
        m.chip(
            "173", label=f"lamps{start}", CLK=clock, CLR=reset, G1_n=lamps_take_n, G2_n=LOW, M=LOW, N=LOW,
            D=data[part], Q=lamps[part],
        )  # fmt: skip
    m.lamps(lamps)

m.microprogram("whimbrel.micro", store=store, opcode=opcode, conditions={"carry": carry, "zero": (zero_n, LOW)})
m.space("rom", address=pc, data=data, chips=[program], show="program_show")
m.space("ram", address=where, data=data, chips=[memory], show="memory_show", write="memory_write")
m.section("rom", space="rom", start=0, size=256)
m.section("ram", space="ram", start=0, size=256)
m.output("lamps", lamps, take=lamps_take_n)
m.halt_when(halt, HIGH)
for name, nets in {"acc": acc, "pc": pc, "opcode": opcode, "micro": micro, "carry": [carry]}.items():
    m.register(name, nets)
