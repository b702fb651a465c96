"""A machine of two ROMs and a RAM for the tests of images; the bytes are given, no microprogram is needed."""

import random
from pathlib import Path

from latchwork import LOW, OPEN, Machine
from latchwork.model import Model


def model(size: int = 2048, seed: int = 1) -> Model:
    """U1: random bytes; U2: random bytes in its first half only, the rest is not given."""
    m = Machine("two_roms")
    address = m.bus("pc", 11)
    with m.board("sequencer"):
        m.chip("28C16", label="low", A=address, D=[OPEN] * 8, CE_n=LOW, OE_n=LOW, WE_n=LOW)
    with m.board("program_board"):
        m.chip("28C16", label="high", A=address, D=[OPEN] * 8, CE_n=LOW, OE_n=LOW, WE_n=LOW)
        m.chip("6116", A=address, D=[OPEN] * 8, CE_n=LOW, OE_n=LOW, WE_n=LOW)
        m.chip("28C64", label="unused", A=[*address, LOW, LOW], D=[OPEN] * 8, CE_n=LOW, OE_n=LOW, WE_n=LOW)
    random_bytes = random.Random(seed).randbytes
    netlist = m.netlist()
    chips = netlist.chip_named
    contents = {chips["U1"]: random_bytes(size), chips["U2"]: random_bytes(size // 2)}
    return Model(Path(), netlist, m.statements(), contents=contents)
