"""NAME: a first machine of eighteen chips. Change it, and ask `latchwork check` after every change.

It has one register that counts (the accumulator), a row of lamps to show it, and eight control lines that come
straight out of one control ROM. Everything else Latchwork works out from what is wired to what.
"""

from latchwork import HIGH, LOW, OPEN, Machine

# Parts named by their number alone ("377") are of this family. HCT inputs accept the levels of memories.
m = Machine("NAME", family="HCT", supply=5.0)

# Buses and nets are the wires. A bus is several nets, the lowest bit first.
program = m.bus("program", 8)  # the byte that the program ROM shows
opcode = m.bus("opcode", 8)
pc = m.bus("pc", 8)
step = m.bus("step", 4)
acc = m.bus("acc", 8)
lamps = m.bus("lamps", 8)
carry = m.net("carry")

# Control lines are what a microprogram switches. A name that ends in _n does its work while the line is low.
opcode_take_n = m.line("opcode_take_n")
pc_advance = m.line("pc_advance")
pc_take_n = m.line("pc_take_n")
acc_take_n = m.line("acc_take_n")
use_sum = m.line("use_sum")
lamps_take_n = m.line("lamps_take_n")
last_n = m.line("last_n")
halt_n = m.line("halt_n")

with m.board("clock", title="Clock and reset"):
    clock = m.clock(1_000_000, hand=True)  # a crystal, a button for single steps, and a switch between them
    reset_n = m.power_on_reset()
    reset = m.gate("inverter", reset_n, name="reset")

with m.board("sequencer", title="Opcode, step and control word"):
    m.chip("377", label="opcode", CLK=clock, G_n=opcode_take_n, D=program, Q=opcode)
    # The step counter starts again at 0 (its P inputs) after `last`, and stands still while `halt` is active.
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
    # Eleven address lines: opcode, two bits of the step, the carry. Wire them in any order that suits the board.
    control = m.chip(
        "28C16",
        label="control",
        A=[*opcode, step[0], step[1], carry],
        D=[opcode_take_n, pc_advance, pc_take_n, acc_take_n, use_sum, lamps_take_n, last_n, halt_n],
        CE_n=LOW,
        OE_n=LOW,
        WE_n=HIGH,
    )

with m.board("program", title="Program counter and program ROM"):
    carry_on = HIGH
    for low in (0, 4):
        four = m.chip(
            "161", label=f"pc{low}", CLK=clock, CLR_n=reset_n, LOAD_n=pc_take_n, P=program[low : low + 4],
            ENP=pc_advance, ENT=carry_on, Q=pc[low : low + 4],
        )  # fmt: skip
        carry_on = four.RCO
    rom = m.chip("28C16", label="rom", A=[*pc, LOW, LOW, LOW], D=program, CE_n=LOW, OE_n=LOW, WE_n=HIGH)

with m.board("arithmetic", title="Accumulator and adder"):
    total = m.bus("total", 8)
    taken = m.bus("taken", 8)
    low_half = m.chip("283", label="add0", A=acc[0:4], B=program[0:4], C0=LOW, S=total[0:4])
    high_half = m.chip("283", label="add4", A=acc[4:8], B=program[4:8], C0=low_half.C4, S=total[4:8])
    for low in (0, 4):
        four = slice(low, low + 4)
        m.chip("157", label=f"taken{low}", S=use_sum, G_n=LOW, A=program[four], B=total[four], Y=taken[four])
    m.chip("377", label="acc", CLK=clock, G_n=acc_take_n, D=taken, Q=acc)
    # The carry is kept when the accumulator takes a sum.
    m.chip(
        "173", label="carry", CLK=clock, CLR=reset, M=LOW, N=LOW, G1_n=acc_take_n, G2_n=m.gate("inverter", use_sum),
        D=[high_half.C4, LOW, LOW, LOW], Q=[carry, OPEN, OPEN, OPEN],
    )  # fmt: skip
    m.lamps(acc, colour="amber")

with m.board("ports", title="Lamps"):
    m.chip("377", label="lamps", CLK=clock, G_n=lamps_take_n, D=acc, Q=lamps)
    m.lamps(lamps, colour="green")

# What no wire can tell: which chip holds the microprogram, which nets are its opcode and its conditions, where
# programs live, and what a person looks at.
m.microprogram("NAME.micro", store=[control], opcode=opcode, conditions={"carry": carry})
m.space("rom", address=pc, data=program, chips=[rom])
m.section("rom", space="rom", start=0, size=256)
m.output("lamps", lamps, take=lamps_take_n)
m.halt_when(halt_n, LOW)
m.register("acc", acc)
m.register("pc", pc)
m.register("carry", [carry])
