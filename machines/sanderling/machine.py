"""Sanderling, the machine of the first evening: one register, an adder, keys and lamps, and no microprogram.

Its control lines are on switches and its clock is a button: set the lines, press, look at the lamps. Two switches say
who shows on the data bus, through a decoder, so that no setting of them makes two outputs meet.
"""

from latchwork import HIGH, LOW, OPEN, Machine, pull_up

m = Machine("sanderling", family="HCT", supply=5.0)

data = m.bus("data", 8, idle=pull_up("10k"))
acc = m.bus("acc", 8)
total = m.bus("total", 8)
acc_show_n, keys_show_n, total_show_n = (m.net(f"{name}_show_n") for name in ("acc", "keys", "total"))

with m.board("controls", title="Switches for the control lines, and the clock"):
    clock = m.hand_clock("clock")
    show = m.switches("show", 2, closed=HIGH)  # 0: nobody, 1: the accumulator, 2: the keys, 3: the sum
    acc_take_n = m.switch("acc_take_n")  # closed: the accumulator takes the bus at the next press
    carry_in = m.switch("carry_in", closed=HIGH)
    m.chip(
        "139", label="show", A1=show[0], B1=show[1], G1_n=LOW, Y1=[OPEN, acc_show_n, keys_show_n, total_show_n],
        A2=LOW, B2=LOW, G2_n=HIGH, Y2=[OPEN] * 4,
    )  # fmt: skip

with m.board("register", title="Accumulator, adder and keys"):
    keys = m.switches("keys", 8, closed=HIGH)
    m.chip("377", label="acc", CLK=clock, G_n=acc_take_n, D=data, Q=acc)
    m.chip("541", label="acc_show", A=acc, Y=data, G1_n=acc_show_n, G2_n=LOW)
    m.chip("541", label="keys_show", A=keys, Y=data, G1_n=keys_show_n, G2_n=LOW)
    low_sum = m.chip("283", label="add0", A=acc[0:4], B=keys[0:4], C0=carry_in, S=total[0:4])
    m.chip("283", label="add4", A=acc[4:8], B=keys[4:8], C0=low_sum.C4, S=total[4:8], C4=OPEN)
    m.chip("541", label="total_show", A=total, Y=data, G1_n=total_show_n, G2_n=LOW)
    m.lamps(acc, colour="amber")
    m.lamps(data, colour="green")

m.input("keys", keys)
m.input("show", show)
m.input("acc_take_n", acc_take_n)
m.input("carry_in", carry_in)
m.output("acc", acc)
m.register("acc", acc)
