"""Random small machines of catalogue parts with buses eight bits wide: what words are made of. Drivers that now and
then meet or leave the bus alone, pulls that differ bit by bit, keepers, registers, counters, RAM written by level."""

from __future__ import annotations

from random import Random

from building import Builder

from latchwork.netlist import Netlist


def wide_netlist(number: int) -> Netlist:
    """The same for the same number."""
    random, b = Random(number), Builder(clock="clk")
    b.add("crystal oscillator", parameters={"period": 1000}, OUT="clk")
    buses = [b.bus(f"w{index}", 8) for index in range(2)]
    count = b.bus("count", 4)
    b.add("74HCT161", CLK="clk", CLR_n="high", LOAD_n="high", P=["low"] * 4, ENP="high", ENT="high", Q=count)
    b.add("74HCT04", A1="clk", Y1="clk_n", A2=count[0], Y2="c0_n", A3=count[1], Y3="c1_n")
    signals = [*count, "c0_n", "c1_n", "high"]
    words = [[*count, *count]]
    for index in range(3):
        held = b.bus(f"held{index}", 8)
        source = random.choice(buses)
        b.add("74HCT377", CLK=random.choice(("clk", "clk", "clk_n")), G_n=random.choice(signals), D=source, Q=held)
        words.append(held)
    for index in range(4):
        word, bus = random.choice(words), buses[index % 2]
        b.add("74HCT541", A=word, Y=bus, G1_n=random.choice(signals), G2_n=random.choice(("low", *count)))
    b.add("74HCT32", A1="clk", B1=random.choice(signals), Y1="write_n")
    address = [*random.choice(words), "low", "low", "low"]
    b.add("6116", A=address, D=buses[0], CE_n="low", OE_n=random.choice(signals), WE_n="write_n")
    for bus in buses:
        for net in bus:
            match random.randrange(6):
                case 0 | 1 | 2:
                    b.pull(net, random.choice(("high", "low")))
                case 3 | 4:
                    b.add("bus keeper", A=net)
    pulsed = {"width": 100 * random.randrange(3, 25)}
    b.add("pulse", parameters=pulsed, IN=count[random.randrange(2)], OUT="pulsed")
    b.add("74HCT74", CLK1="pulsed", D1=count[2], CLR1_n="high", PRE1_n="high", Q1="late")
    return b.netlist(f"wide {number}")
