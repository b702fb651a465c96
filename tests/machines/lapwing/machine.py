"""Lapwing: eight bits of data and sixteen of address, a bank of eight registers, two pointers and a stack.

The larger machine that speed is measured on. Much of it is the same few chips over and over, so loops write it down.
Three two-way buffers join the memory, the bank and the ports to the data bus.
"""

from latchwork import HIGH, LOW, OPEN, Machine, pull_up

m = Machine("lapwing", family="HCT", supply=5.0)

data = m.bus("data", 8, idle=pull_up("10k"))
address = m.bus("address", 16, idle=pull_up("10k"))
cells = m.bus("cells", 8, idle=pull_up("10k"))
bank = m.bus("bank", 8, idle=pull_up("10k"))
ports = m.bus("ports", 8, idle=pull_up("10k"))
opcode = m.bus("opcode", 8)
step = m.bus("step", 4)
pc, x, y, stack, count, operand = (m.bus(name, 16) for name in ("pc", "x", "y", "stack", "count", "operand"))
acc, right, result = (m.bus(name, 8) for name in ("acc", "right", "result"))
carry, zero_n, negative = (m.net(name) for name in ("carry", "zero_n", "negative"))


def line_names(names):
    """Control lines, one for each word of `names`."""
    return [m.line(name) for name in names.split()]


# What is shown on the data bus, what takes it, and who says the address: one of each at a time.
show = line_names(
    "memory_show_n bank_show_n port_show_n acc_show_n result_show_n half_show_n pc_low_show_n pc_high_show_n"
    " x_low_show_n x_high_show_n y_low_show_n y_high_show_n count_low_show_n count_high_show_n"
)
take = line_names(
    "memory_write_n bank_write_n port_write_n acc_take_n right_take_n opcode_take_n x_low_take_n x_high_take_n"
    " y_low_take_n y_high_take_n operand_low_take_n operand_high_take_n stack_low_take_n stack_high_take_n"
)
place = line_names("pc_place_n x_place_n y_place_n stack_place_n operand_place_n")
memory_show_n, bank_show_n, port_show_n, acc_show_n, result_show_n, half_show_n = show[:6]
memory_write_n, bank_write_n, port_write_n, acc_take_n, right_take_n, opcode_take_n = take[:6]

last_n, halt_n, pc_take_n, stack_count_n, flags_take_n = line_names(
    "last_n halt_n pc_take_n stack_count_n flags_take_n"
)
pc_advance, x_advance, y_advance, count_advance, stack_up = line_names(
    "pc_advance x_advance y_advance count_advance stack_up"
)
function = m.lines("f", 4)
mode, carry_one, carry_use = line_names("mode carry_one carry_use")
carry_from = m.lines("carry_from", 2)
show_code, take_code, place_code = m.bus("show_code", 4), m.bus("take_code", 4), m.bus("place_code", 3)


def decode(name, code, lines):
    """Two decoders for up to sixteen lines; code 0 is nobody."""
    wanted = [OPEN, *lines, *[OPEN] * (15 - len(lines))]
    upper_n = m.gate("inverter", code[3])
    m.chip("138", label=f"{name}0", S=code[0:3], G1=upper_n, G2A_n=LOW, G2B_n=LOW, Y=wanted[0:8])
    m.chip("138", label=f"{name}8", S=code[0:3], G1=code[3], G2A_n=LOW, G2B_n=LOW, Y=wanted[8:16])


def counter(name, bits, takes, start, advance):
    """Sixteen bits in four digits; `takes` loads the low and the high byte."""
    chain = HIGH
    for digit in range(4):
        part = slice(4 * digit, 4 * digit + 4)
        chip = m.chip(
            "161",
            label=f"{name}{digit}",
            CLK=clock,
            CLR_n=reset_n,
            LOAD_n=takes[digit // 2],
            P=start[part],
            ENP=advance,
            ENT=chain,
            Q=bits[part],
        )
        chain = chip.RCO


def shown(name, bits, target, lines):
    """A byte or two of `bits`, each put on eight nets of `target` while its line is low."""
    for half, line in enumerate(lines):
        start = 8 * half % len(target)
        part = bits[8 * half : 8 * half + 8]
        m.chip("541", label=f"{name}_shown{half}", A=part, Y=target[start : start + 8], G1_n=line, G2_n=LOW)


def joined(name, inner, show_n, write_n):
    """A two-way buffer between the data bus and an inner one: inwards unless it shows, open while nobody asks."""
    used_n = m.gate("and", show_n, write_n)
    m.chip("245", label=name, A=data, B=inner, DIR=show_n, G_n=used_n)


with m.board("clock"):
    clock = m.clock(2_000_000)
    reset_n = m.power_on_reset()
    reset = m.gate("inverter", reset_n, name="reset")

with m.board("sequencer", title="Opcode, steps and control store"):
    m.chip("377", label="opcode", CLK=clock, G_n=opcode_take_n, D=data, Q=opcode)
    home_n = m.gate("and", reset_n, last_n)
    m.chip(
        "163", label="step", CLK=clock, CLR_n=home_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=halt_n, ENT=HIGH, Q=step, RCO=OPEN
    )
    words = [
        [*show_code, *take_code],
        [*place_code, last_n, halt_n, pc_take_n, stack_count_n, flags_take_n],
        [pc_advance, x_advance, y_advance, count_advance, stack_up, *carry_from, OPEN],
        [*function, mode, carry_one, carry_use, OPEN],
    ]
    store = [
        m.chip(
            "28C256",
            label=f"control{number}",
            A=[*opcode, *step, carry, zero_n, negative],
            D=word,
            CE_n=LOW,
            OE_n=LOW,
            WE_n=HIGH,
        )
        for number, word in enumerate(words)
    ]
    decode("show", show_code, show)
    decode("take", take_code, take)
    m.chip("138", label="place", S=place_code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[OPEN, *place, OPEN, OPEN])

with m.board("program", title="Program counter and operand"):
    for half, line in enumerate(take[10:12]):
        part = slice(8 * half, 8 * half + 8)
        m.chip("377", label=f"operand{half}", CLK=clock, G_n=line, D=data, Q=operand[part])
    counter("pc", pc, [pc_take_n] * 2, operand, pc_advance)
    shown("pc_place", pc, address, [place[0]] * 2)
    shown("operand_place", operand, address, [place[4]] * 2)
    shown("pc", pc, data, show[6:8])

for name, bits, number, advance in (("x", x, 0, x_advance), ("y", y, 1, y_advance)):
    with m.board(name, title=f"Pointer {name}"):
        counter(name, bits, take[6 + 2 * number : 8 + 2 * number], [*data, *data], advance)
        shown(f"{name}_place", bits, address, [place[1 + number]] * 2)
        shown(name, bits, data, show[8 + 2 * number : 10 + 2 * number])

with m.board("stack", title="Stack pointer"):
    chain = LOW
    for digit in range(4):
        part = slice(4 * digit, 4 * digit + 4)
        start = slice(4 * (digit % 2), 4 * (digit % 2) + 4)
        chip = m.chip(
            "74AC169",
            label=f"stack{digit}",
            CLK=clock,
            LOAD_n=take[12 + digit // 2],
            P=data[start],
            UD=stack_up,
            ENP_n=stack_count_n,
            ENT_n=chain,
            Q=stack[part],
        )
        chain = chip.RCO_n
    shown("stack_place", stack, address, [place[3]] * 2)

with m.board("count", title="How many instructions began"):
    counter("count", count, [HIGH] * 2, [LOW] * 16, count_advance)
    shown("count", count, data, show[12:14])

with m.board("memory"):
    joined("cells", cells, memory_show_n, memory_write_n)
    lower_n = address[15]
    upper_n = m.gate("inverter", address[15])
    write_n = m.gate("or", memory_write_n, clock, name="write_n")  # only in the second half of the clock
    rom = m.chip("28C256", label="rom", A=address[0:15], D=cells, CE_n=lower_n, OE_n=memory_show_n, WE_n=HIGH)
    ram = m.chip("62256", label="ram", A=address[0:15], D=cells, CE_n=upper_n, OE_n=memory_show_n, WE_n=write_n)

with m.board("bank", title="Eight registers; the opcode says which"):
    joined("bank", bank, bank_show_n, bank_write_n)
    select = {"S": opcode[0:3], "G1": HIGH, "G2B_n": LOW}
    bank_shows = m.bus("bank_shows_n", 8)
    bank_takes = m.bus("bank_takes_n", 8)
    m.chip("138", label="bank_show", G2A_n=bank_show_n, Y=bank_shows, **select)
    m.chip("138", label="bank_take", G2A_n=bank_write_n, Y=bank_takes, **select)
    held = []
    for number in range(8):
        held.append(m.bus(f"r{number}", 8))
        m.chip("377", label=f"r{number}", CLK=clock, G_n=bank_takes[number], D=bank, Q=held[number])
        shown(f"r{number}", held[number], bank, [bank_shows[number]])

with m.board("arithmetic", title="Accumulator, '181 slices, flags"):
    m.chip("377", label="acc", CLK=clock, G_n=acc_take_n, D=data, Q=acc)
    m.chip("377", label="right", CLK=clock, G_n=right_take_n, D=data, Q=right)
    carry_in_n = m.gate("nor", carry_one, m.gate("and", carry_use, carry))
    slice_shared = {"S": function, "M": mode, "AB": OPEN}
    low = m.chip(
        "74LS181", label="alu0", A=acc[0:4], B=right[0:4], Cn=carry_in_n, F=result[0:4], Cn4=OPEN, **slice_shared
    )
    ahead = m.chip(
        "74HCT182", label="ahead", Cn=carry_in_n, P0_n=low.P_n, G0_n=low.G_n,
        P1_n=HIGH, G1_n=HIGH, P2_n=HIGH, G2_n=HIGH, P3_n=HIGH, G3_n=HIGH,
        Cny=OPEN, Cnz=OPEN, P_n=OPEN, G_n=OPEN,
    )  # fmt: skip
    high = m.chip(
        "74LS181", label="alu4", A=acc[4:8], B=right[4:8], Cn=ahead.Cnx, F=result[4:8], P_n=OPEN, G_n=OPEN,
        **slice_shared,
    )  # fmt: skip
    shift_in = m.net("shift_in")
    shown("acc", acc, data, [acc_show_n])
    shown("result", result, data, [result_show_n])
    shown("half", [*acc[1:8], shift_in], data, [half_show_n])
    zero_now_n = m.chip("688", label="zero", P=data, Q=[LOW] * 8, G_n=LOW).PQ_n
    m.chip(
        "173", label="flags", CLK=clock, CLR=reset, G1_n=flags_take_n, G2_n=LOW, M=LOW, N=LOW,
        D=[zero_now_n, data[7], LOW, LOW], Q=[zero_n, negative, OPEN, OPEN],
    )  # fmt: skip
    sum_carry = m.gate("inverter", high.Cn4)
    carry_next = m.net("carry_next")
    m.chip(
        "153", label="carry", A=carry_from[0], B=carry_from[1], G1_n=LOW, G2_n=LOW,
        C1=[carry, sum_carry, acc[0], acc[0]], Y1=carry_next, C2=[LOW, LOW, LOW, carry], Y2=shift_in,
    )  # fmt: skip
    m.chip(
        "74", label="carry_flag", CLK1=clock, D1=carry_next, CLR1_n=reset_n, PRE1_n=HIGH, Q1=carry, Q1_n=OPEN,
        CLK2=LOW, D2=LOW, CLR2_n=HIGH, PRE2_n=HIGH, Q2=OPEN, Q2_n=OPEN,
    )  # fmt: skip

with m.board("ports", title="Lamps, a spare port and keys; the lowest bit of the opcode says which"):
    joined("ports", ports, port_show_n, port_write_n)
    lamps, spare = m.bus("lamps", 8), m.bus("spare", 8)
    keys = m.switches("keys", 8, closed=HIGH)
    choose = m.chip(
        "139", label="ports", S1=[opcode[0], LOW], G1_n=port_write_n, S2=[opcode[0], LOW], G2_n=port_show_n,
        Y1_2=OPEN, Y1_3=OPEN, Y2_2=OPEN, Y2_3=OPEN,
    )  # fmt: skip
    lamps_take_n = choose.Y1_0
    m.chip("377", label="lamps", CLK=clock, G_n=lamps_take_n, D=ports, Q=lamps)
    m.chip("377", label="spare", CLK=clock, G_n=choose.Y1_1, D=ports, Q=spare)
    m.chip("541", label="keys", A=keys, Y=ports, G1_n=choose.Y2_0, G2_n=LOW)
    m.chip("541", label="spare_shown", A=spare, Y=ports, G1_n=choose.Y2_1, G2_n=LOW)
    m.lamps(lamps, colour="green")

m.microprogram(
    "lapwing.micro",
    store=store,
    opcode=opcode,
    conditions={"carry": carry, "zero": (zero_n, LOW), "negative": negative},
)
m.space("memory", address=address, data=cells, chips=[rom, ram])
m.section("rom", space="memory", start=0, size=0x8000)
m.section("ram", space="memory", start=0x8000, size=0x8000)
m.output("lamps", lamps, take=lamps_take_n)
m.input("keys", keys)
m.halt_when(halt_n, LOW)
registers = {"acc": acc, "pc": pc, "x": x, "y": y, "stack": stack, "opcode": opcode, "step": step, "count": count}
for name, nets in registers.items():
    m.register(name, nets)
for number, nets in enumerate(held):
    m.register(f"r{number}", nets)
m.register("carry", [carry])
m.register("zero_n", [zero_n])
