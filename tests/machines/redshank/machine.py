"""Redshank: two decode ROMs turn the opcode into a start address, which a counter of twelve bits loads.

The control store shows its word straight to the chips, without a register between. Carry and zero are address bits of
the store, so a step may ask for different things as they stand.
"""

from latchwork import HIGH, LOW, OPEN, Machine, pull_up

m = Machine("redshank", family="HCT", supply=5.0)

data = m.bus("data", 8, idle=pull_up("10k"))
opcode = m.bus("opcode", 8)
micro = m.bus("micro", 12)
entrance = m.bus("entrance", 12)
pc = m.bus("pc", 8)
where = m.bus("where", 8)
acc = m.bus("acc", 8)
total = m.bus("total", 8)
lamps = m.bus("lamps", 8)
carry = m.net("carry")
zero = m.net("zero")
show_code = m.bus("show_code", 3)


def line_names(names):
    """Control lines, one for each word of `names`."""
    return [m.line(name) for name in names.split()]


show = line_names("program_show_n memory_show_n acc_show_n ones_show_n")
take = line_names("opcode_take_n pc_take_n where_take_n acc_take_n lamps_take_n flags_take_n memory_write_n")
enter_n, home_n, halt_n, acc_use, carry_use, pc_advance = line_names(
    "enter_n home_n halt_n acc_use carry_use pc_advance"
)
program_show_n, memory_show_n, acc_show_n, ones_show_n = show
opcode_take_n, pc_take_n, where_take_n, acc_take_n, lamps_take_n, flags_take_n, memory_write_n = take

with m.board("clock"):
    clock = m.clock(1_000_000)
    reset_n = m.power_on_reset()
    reset = m.gate("inverter", reset_n, name="reset")

with m.board("sequencer", title="Opcode, start addresses, counter and control store"):
    m.chip("377", label="opcode", CLK=clock, G_n=opcode_take_n, D=data, Q=opcode)
    rom = {"CE_n": LOW, "OE_n": LOW, "WE_n": HIGH}
    decode = [
        m.chip("28C16", label="decode0", A=[*opcode, LOW, LOW, LOW], D=entrance[0:8], **rom),
        m.chip("28C16", label="decode1", A=[LOW, *opcode[::-1], LOW, LOW], D=[*entrance[8:12], *[OPEN] * 4], **rom),
    ]
    back_n = m.gate("and", reset_n, home_n, name="back_n")
    chain = HIGH
    for digit in range(3):
        part = slice(4 * digit, 4 * digit + 4)
        counter = m.chip(
            "163", label=f"micro{digit}", CLK=clock, CLR_n=back_n, LOAD_n=enter_n, P=entrance[part],
            ENP=halt_n, ENT=chain, Q=micro[part],
        )  # fmt: skip
        chain = counter.RCO
    low_word = [*show_code, *take[0:5]]
    high_word = [*take[5:7], enter_n, home_n, halt_n, acc_use, carry_use, pc_advance]
    store = [
        m.chip("28C256", label="control0", A=[*micro, carry, zero, LOW], D=low_word, **rom),
        m.chip("28C256", label="control1", A=[carry, *micro, LOW, zero], D=high_word, **rom),
    ]
    m.chip("138", label="show", S=show_code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[OPEN, *show, OPEN, OPEN, OPEN])

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
    m.chip("377", label="acc", CLK=clock, G_n=acc_take_n, D=total, Q=acc)
    m.chip("541", label="acc", A=acc, Y=data, G1_n=acc_show_n, G2_n=LOW)
    m.chip("541", label="ones", A=[HIGH] * 8, Y=data, G1_n=ones_show_n, G2_n=LOW)
    used = [m.gate("and", bit, acc_use) for bit in acc]
    carry_in = m.gate("and", carry, carry_use)
    low = m.chip("283", label="low", A=used[0:4], B=data[0:4], C0=carry_in, S=total[0:4])
    high = m.chip("283", label="high", A=used[4:8], B=data[4:8], C0=low.C4, S=total[4:8])
    zero_now_n = m.chip("688", label="zero", P=total, Q=[LOW] * 8, G_n=LOW).PQ_n
    m.chip(
        "173", label="flags", CLK=clock, CLR=reset, G1_n=flags_take_n, G2_n=LOW, M=LOW, N=LOW,
        D=[high.C4, m.gate("inverter", zero_now_n), LOW, LOW], Q=[carry, zero, OPEN, OPEN],
    )  # fmt: skip
    for start in (0, 4):  # dark after reset
        part = slice(start, start + 4)
        m.chip(
            "173", label=f"lamps{start}", CLK=clock, CLR=reset, G1_n=lamps_take_n, G2_n=LOW, M=LOW, N=LOW,
            D=data[part], Q=lamps[part],
        )  # fmt: skip
    m.lamps(lamps)

m.microprogram("redshank.micro", store=store, opcode=opcode, conditions={"carry": carry, "zero": zero}, decode=decode)
m.space("rom", address=pc, data=data, chips=[program], show="program_show")
m.space("ram", address=where, data=data, chips=[memory], show="memory_show", write="memory_write")
m.section("rom", space="rom", start=0, size=256)
m.section("ram", space="ram", start=0, size=256)
m.output("lamps", lamps, take=lamps_take_n)
m.halt_when(halt_n, LOW)
for name, nets in {"acc": acc, "pc": pc, "opcode": opcode, "micro": micro, "carry": [carry], "zero": [zero]}.items():
    m.register(name, nets)
