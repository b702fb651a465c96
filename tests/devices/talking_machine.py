"""A small machine with a serial port, without microprogram: counters and gates make the bus cycles.

Sixteen clocks are a turn: it reads the status, and where a byte came, it reads that and writes it back. A byte takes
two turns on the line, each way.
"""

MACHINE = """
from latchwork import HIGH, LOW, OPEN, Machine, pull_up
m = Machine("talker")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
phase = m.bus("phase", 4)
m.chip("161", label="phase", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=phase, RCO=OPEN)
data = m.bus("data", 8, idle=pull_up("10k"))
held = m.bus("held", 8)
came = m.net("came")
y = m.bus("y", 8)
# phase 2..3 (step 1): read the status; 4..5 (step 2): read the byte; 8..9 (step 4): send it
m.chip("138", label="steps", S=phase[1:4], G1=HIGH, G2A_n=LOW, G2B_n=LOW, Y=y)
status_n, byte_n = y[1], y[2]
send_n = m.gate("or", y[4], m.gate("inverter", came))
late_n = m.gate("or", m.gate("inverter", phase[0]), clock)  # low in the last quarter of a step
m.chip("74", label="came", CLK1=m.gate("or", status_n, late_n), D1=data[0], CLR1_n=reset_n,
       PRE1_n=HIGH, Q1=came, Q1_n=OPEN, CLK2=LOW, D2=LOW, CLR2_n=HIGH, PRE2_n=HIGH, Q2=OPEN, Q2_n=OPEN)
wanted_n = m.gate("or", byte_n, m.gate("inverter", came))
m.chip("374", label="held", CLK=m.gate("or", wanted_n, late_n), OC_n=LOW, D=data, Q=held)
m.chip("541", label="shown", A=held, Y=data, G1_n=send_n, G2_n=LOW)
read_n = m.gate("and", status_n, wanted_n, name="read_n")
write_n = m.gate("or", send_n, late_n, name="write_n")
irq_n = m.net("irq_n", idle=pull_up("10k"))
select_n = m.gate("and", read_n, write_n)
m.serial_port("line", D=data, A0=m.gate("inverter", status_n), CS_n=select_n, RD_n=read_n, WR_n=write_n, IRQ_n=irq_n,
              rate=312_500)
run = m.net("run")
running = m.gate("and", run, reset_n)
m.lamps([running])
m.panel("panel", switches={"run": run}, lamps={"held": held})
m.register("held", held)
"""
