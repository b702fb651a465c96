"""Turnstone: the smallest machine with a microprogram, as text, so that a test can spoil a part of it.

Opcode of four bits, step counter of three, two control ROMs, one decoder, one line behind a flag selector.
"""

from __future__ import annotations

from pathlib import Path

from latchwork.languages.microprogram.lowering import lower
from latchwork.languages.microprogram.parse import parse_microprogram
from latchwork.load.machine import LoadedMachine, read_machine
from latchwork.load.model import names_of
from latchwork.model import ControlProgram
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all

MACHINE = """\
from latchwork import HIGH, LOW, OPEN, Machine, pull_up

m = Machine("turnstone")
data = m.bus("data", 8, idle=pull_up("10k"))
opcode = m.bus("opcode", 4)
step = m.bus("step", 3)
code = m.bus("code", 2)
carry = m.net("carry")
zero = m.net("zero")
one_show_n = m.line("one_show_n")
two_show_n = m.line("two_show_n")
three_show_n = m.line("three_show_n")
opcode_take_n = m.line("opcode_take_n")
last_n = m.line("last_n")
jump = m.line("jump")
alu = m.lines("alu", 2)
flags_take_n = m.line("flags_take_n")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
spare = m.net("spare")
wanted = m.net("wanted")
extra = m.net("extra")
address = [*opcode, *step, carry, LOW, LOW, LOW]
m.chip("173", label="opcode", CLK=clock, CLR=LOW, G1_n=opcode_take_n, G2_n=LOW, M=LOW, N=LOW, D=data[0:4], Q=opcode)
back_n = m.gate("and", reset_n, last_n)
m.chip("163", label="step", CLK=clock, CLR_n=back_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=[*step, OPEN],
       RCO=OPEN)
rom = {"CE_n": LOW, "OE_n": LOW, "WE_n": HIGH}
low = m.chip("28C16", label="low", A=address, D=[*code, opcode_take_n, last_n, *alu, flags_take_n, wanted], **rom)
high = m.chip("28C16", label="high", A=address, D=[extra, *[OPEN] * 7], **rom)
m.chip("139", label="show", A1=code[0], B1=code[1], G1_n=LOW, Y1=[OPEN, one_show_n, two_show_n, three_show_n],
       A2=LOW, B2=LOW, G2_n=HIGH)
m.gate("and", wanted, zero, out=jump)
m.chip("541", label="lines", A=[jump, *alu, extra, LOW, LOW, LOW, LOW], Y=OPEN, G1_n=LOW, G2_n=LOW)
more = m.line("extra_more")
m.gate("inverter", extra, out=more)
m.chip("173", label="flags", CLK=clock, CLR=LOW, G1_n=flags_take_n, G2_n=LOW, M=LOW, N=LOW, D=data[0:4],
       Q=[carry, zero, OPEN, OPEN])
m.microprogram("turnstone.micro", store=[low, high], opcode=opcode, conditions={"carry": carry, "zero": zero})
"""

MICRO = """\
word 4

field alu       alu1 alu0
    pass        00
    plus        01
    both        1-

shared fetch
    one_show, opcode_take

instruction add         code 0001
    meaning nothing
    fetch
    two_show, alu = plus, flags_take, last

instruction jump        code 0010
    meaning nothing
    fetch
    when zero   jump, last
    otherwise   last

instruction skip        code 0011
    meaning nothing
    fetch
    when carry  three_show
    otherwise   two_show, alu = both
    last

other opcodes
    fetch
    last
"""


def written(folder: Path, machine: str = MACHINE, micro: str = MICRO) -> LoadedMachine:
    """The machine, written into a folder and read from there."""
    (folder / "turnstone.micro").write_text(micro)
    (folder / "machine.py").write_text(machine)
    return read_machine(folder)


def lowered(
    folder: Path, machine: str = MACHINE, micro: str = MICRO, previous: ControlProgram | None = None
) -> ControlProgram:
    loaded = written(folder, machine, micro)
    return control(loaded, previous)


def control(loaded: LoadedMachine, previous: ControlProgram | None = None) -> ControlProgram:
    binding = loaded.statements.microprogram
    assert binding is not None
    flat = parse_microprogram(loaded.folder / binding.source, names_of(loaded))
    return lower(flat, loaded.netlist, binding, previous)


def complaint(loaded: LoadedMachine) -> str:
    """The problems found, as a terminal shows them, without the quoted source lines."""
    try:
        control(loaded)
    except LatchworkError as error:
        text = plain_all(error.problems).replace(f"{loaded.folder}/", "")
        return "\n".join(line for line in text.splitlines() if not line.startswith("      "))
    return ""
