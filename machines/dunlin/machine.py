"""Dunlin, a first machine: eight bits, an accumulator and an index register, 45 chips on eight boards.

The program ROM shows its byte on a bus of its own, all the time. That byte is an opcode in the first step of an
instruction, and an operand after it: a constant for the data bus, an address in RAM (alone, or with the index
register added), or the low part of a jump. So an instruction such as `add 20[index]` reads ROM and RAM in one step.

Every clock, the three control ROMs look up the word of the *next* step while the control register holds the
present one. The step counter therefore runs one ahead of the step that is at work.
"""

from latchwork import HIGH, LOW, OPEN, Machine, pull_up

m = Machine("dunlin", family="HCT", supply=5.0)

data = m.bus("data", 8, idle=pull_up("10k"))
program = m.bus("program", 8)
opcode = m.bus("opcode", 8)
operand = m.bus("operand", 8)
index = m.bus("index", 8)
result = m.bus("result", 8)
pc = m.bus("pc", 12)


def line_names(names):
    """Control lines, one for each word of `names`, as a list in that order."""
    return [m.line(name) for name in names.split()]


# What the control words set. A line that ends in _n does its work while it is low.
show = line_names("program_show_n ram_show_n operand_show_n half_show_n keys_show_n")
program_show_n, ram_show_n, operand_show_n, half_show_n, keys_show_n = show
take = line_names("acc_take_n index_take_n lamps_take_n ram_write_n ir_take_n")
acc_take_n, index_take_n, lamps_take_n, ram_write_n, ir_take_n = take
halt_n = m.line("halt_n")
pc_take_n = m.line("pc_take_n")
last_n = m.line("last_n")
pc_advance = m.line("pc_advance")
function = m.lines("f", 4)
mode, carry_one, carry_use, flags_take = line_names("mode carry_one carry_use flags_take")
carry_from = m.lines("carry_from", 2)
operand_index, address_indexed = line_names("operand_index address_indexed")

show_code = m.bus("show_code", 3)
take_code = m.bus("take_code", 3)
test = m.bus("test", 3)
test_invert = m.net("test_invert")

with m.board("clock", title="Clock and reset"):
    clock = m.clock(1_000_000, hand=True)
    reset_n = m.power_on_reset()
    reset = m.gate("inverter", reset_n, name="reset")

with m.board("sequencer", title="Opcode, steps and control words"):
    m.chip("377", label="opcode", CLK=clock, G_n=ir_take_n, D=program, Q=opcode)
    step = m.bus("step", 4)
    m.chip(
        "161",
        label="step",
        CLK=clock,
        CLR_n=reset_n,
        LOAD_n=last_n,
        P=[LOW] * 4,
        ENP=halt_n,
        ENT=HIGH,
        Q=step,
        RCO=OPEN,
    )

    # The address lines of the three ROMs run as the board likes it: opcode from below on the first, steps first on
    # the second, everything mirrored on the third. Latchwork reads the order from here.
    orders = [[*opcode, *step[0:3]], [*step[0:3], *opcode], [*step[0:3], *opcode][::-1]]
    words = [
        [*show_code, *take_code, pc_advance],
        [*function, mode, carry_one, carry_use, flags_take],
        [test_invert, *test, *carry_from, operand_index, address_indexed],
    ]
    store = []
    for number, (order, word) in enumerate(zip(orders, words, strict=True)):
        coming = m.bus(f"coming{number}", 8 if len(word) == 8 else 7)
        # `last` acts on the step counter as soon as the first ROM says it: the counter is one step ahead.
        shown = coming if len(word) == 8 else [*coming, last_n]
        store.append(m.chip("28C16", label=f"control{number}", A=order, D=shown, CE_n=LOW, OE_n=LOW, WE_n=HIGH))
        spare = 8 - len(word)
        m.chip(
            "273",
            label=f"word{number}",
            CLK=clock,
            CLR_n=reset_n,
            D=[*coming, *[LOW] * spare],
            Q=[*word, *[OPEN] * spare],
        )

    m.chip("138", label="show", S=show_code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[OPEN, *show, OPEN, OPEN])
    jump_n = m.net("jump_n")
    m.chip("138", label="take", S=take_code, G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=[OPEN, *take, jump_n, halt_n])

with m.board("program", title="Program counter and program ROM"):
    carry_on = HIGH
    for number, start in enumerate([program[0:4], program[4:8], opcode[0:4]]):
        digit = m.chip(
            "161", label=f"pc{number}", CLK=clock, CLR_n=reset_n, LOAD_n=pc_take_n, P=start,
            ENP=pc_advance, ENT=carry_on, Q=pc[4 * number : 4 * number + 4],
        )  # fmt: skip
        carry_on = digit.RCO
    program_rom = m.chip("28C64", label="rom", A=[*pc, LOW], D=program, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    m.chip("541", label="constant", A=program, Y=data, G1_n=program_show_n, G2_n=LOW)

with m.board("registers", title="Accumulator and index"):
    acc = m.bus("acc", 8)
    m.chip("377", label="acc", CLK=clock, G_n=acc_take_n, D=result, Q=acc)
    m.chip("377", label="index", CLK=clock, G_n=index_take_n, D=result, Q=index)
    for low in (0, 4):
        half = slice(low, low + 4)
        m.chip("157", label=f"operand{low}", S=operand_index, G_n=LOW, A=acc[half], B=index[half], Y=operand[half])
    shift_in = m.net("shift_in")
    m.chip("541", label="operand", A=operand, Y=data, G1_n=operand_show_n, G2_n=LOW)
    m.chip("541", label="half", A=[*operand[1:8], shift_in], Y=data, G1_n=half_show_n, G2_n=LOW)
    m.lamps(acc, colour="amber")
    m.lamps(index, colour="yellow")

with m.board("memory", title="RAM and its address"):
    ram_address = m.bus("ram_address", 8)
    offset = [m.gate("and", bit, address_indexed) for bit in index]
    low_sum = m.chip("283", label="address0", A=program[0:4], B=offset[0:4], C0=LOW, S=ram_address[0:4])
    m.chip("283", label="address4", A=program[4:8], B=offset[4:8], C0=low_sum.C4, S=ram_address[4:8], C4=OPEN)
    write_n = m.gate("or", ram_write_n, clock, name="write_n")  # only in the second half of the clock
    ram = m.chip("6116", label="ram", A=[*ram_address, LOW, LOW, LOW], D=data, CE_n=LOW, OE_n=ram_show_n, WE_n=write_n)

with m.board("arithmetic", title="Arithmetic and flags"):
    carry = m.net("carry")
    carry_in_n = m.gate("nor", carry_one, m.gate("and", carry_use, carry))
    low_half = m.chip(
        "74LS181", label="alu0", A=operand[0:4], B=data[0:4], S=function, M=mode, Cn=carry_in_n, F=result[0:4],
        P_n=OPEN, G_n=OPEN, AB=OPEN,
    )  # fmt: skip
    high_half = m.chip(
        "74LS181", label="alu4", A=operand[4:8], B=data[4:8], S=function, M=mode, Cn=low_half.Cn4, F=result[4:8],
        P_n=OPEN, G_n=OPEN, AB=OPEN,
    )  # fmt: skip
    zero_n = m.net("zero_n")
    negative = m.net("negative")
    zero_now_n = m.chip("688", label="zero", P=result, Q=[LOW] * 8, G_n=LOW).PQ_n
    m.chip(
        "173", label="flags", CLK=clock, CLR=reset, G1_n=m.gate("inverter", flags_take), G2_n=LOW, M=LOW, N=LOW,
        D=[zero_now_n, result[7], LOW, LOW], Q=[zero_n, negative, OPEN, OPEN],
    )  # fmt: skip
    sum_carry = m.gate("inverter", high_half.Cn4)
    carry_next = m.net("carry_next")
    m.chip(
        "153", label="carry", A=carry_from[0], B=carry_from[1], G1_n=LOW, G2_n=LOW,
        C1=[carry, sum_carry, operand[0], operand[0]], Y1=carry_next,
        C2=[LOW, LOW, LOW, carry], Y2=shift_in,
    )  # fmt: skip
    pressed = m.net("pressed")
    attention = m.button("attention", closed=HIGH)
    m.chip(
        "74", label="carry_flag", CLK1=clock, D1=carry_next, CLR1_n=reset_n, PRE1_n=HIGH, Q1=carry, Q1_n=OPEN,
        CLK2=clock, D2=attention, CLR2_n=reset_n, PRE2_n=HIGH, Q2=pressed, Q2_n=OPEN,
    )  # fmt: skip
    m.lamps([carry, negative], colour="red")

with m.board("conditions", title="Which flag lets a jump through"):
    chosen = m.chip(
        "151", label="flag", S=test, G_n=LOW, D=[HIGH, carry, zero_n, negative, pressed, LOW, LOW, LOW], W=OPEN
    ).Y
    fails = m.gate("xor", chosen, test_invert, name="jump_fails")
    m.gate("or", jump_n, fails, out=pc_take_n)

with m.board("ports", title="Lamps and keys"):
    lamps = m.bus("lamps", 8)
    keys = m.switches("keys", 8, closed=HIGH)
    m.chip("377", label="lamps", CLK=clock, G_n=lamps_take_n, D=data, Q=lamps)
    m.chip("541", label="keys", A=keys, Y=data, G1_n=keys_show_n, G2_n=LOW)
    m.lamps(lamps, colour="green")

m.microprogram(
    "dunlin.micro",
    store=store,
    opcode=opcode,
    conditions={"carry": carry, "zero": (zero_n, LOW), "negative": negative, "pressed": pressed},
)
m.space("rom", address=pc, data=program, chips=[program_rom])
m.space("ram", address=ram_address, data=data, chips=[ram])
m.section("rom", space="rom", start=0, size=4096)
m.section("ram", space="ram", start=0, size=256)
m.output("lamps", lamps, take=lamps_take_n)
m.input("keys", keys)
m.halt_when(halt_n, LOW)
for name, nets in {"acc": acc, "index": index, "pc": pc, "opcode": opcode, "step": step, "carry": [carry]}.items():
    m.register(name, nets)
