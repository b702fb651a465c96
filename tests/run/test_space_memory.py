"""An address space in the order of its addresses: ROM and RAM, several chips, words over two chips, banks.

Outside reference: common practice; where a word lies is worked out here from the order in which the wires are drawn.
"""

import re
from pathlib import Path

import pytest

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.problems.terminal import plain_all, shown_file
from latchwork.tools.run.running import Running

BYTES = bytes(value * 7 & 0xFF for value in range(2048))


def running(m: Machine, **contents: bytes) -> Running:
    netlist = m.netlist()
    by_chip = {netlist.chip_named[name]: content for name, content in contents.items()}
    return Running(Model(Path(), netlist, m.statements(), contents=by_chip))


def said(error: LatchworkError) -> str:
    """As in a terminal; this file is the machine's."""
    return re.sub(
        rf"^  {re.escape(shown_file(__file__))}:\d+:", "  machine.py:1:", plain_all(error.problems), flags=re.M
    )


def rom_and_ram() -> Running:
    """A 28C16 from $0000, a 6116 from $1000 with its address and data pins in reverse, nothing at $0800 and $1800."""
    m = Machine("both")
    address, data = m.bus("address", 13), m.bus("data", 8)
    chosen = m.chip("138", S=[address[11], address[12], LOW], G1=HIGH, G2A_n=LOW, G2B_n=LOW).Y
    wires = address[0:11]
    rom = m.chip("28C16", A=wires, D=data, CE_n=chosen[0], OE_n=LOW, WE_n=HIGH)
    ram = m.chip("6116", A=wires[::-1], D=data[::-1], CE_n=chosen[2], OE_n=LOW, WE_n=HIGH)
    m.space("all", address=address, data=data, chips=[rom, ram])
    return running(m, U2=BYTES)


def test_rom_and_ram_in_one_space() -> None:
    machine = rom_and_ram()
    memory = machine.memory["all"]
    assert len(memory) == 0x2000
    assert memory[0:0x800] == list(BYTES)
    memory[0x1003] = 0b0000_0101
    assert machine.memory["U3"][0b110_0000_0000] == 0b1010_0000
    assert memory[0x1003] == memory[-0x2000 + 0x1003] == 5
    assert memory[0x1002:0x1005:2] == [memory[0x1002], memory[0x1004]]
    memory[2] = 0x99  # the erased and written ROM of a bench: it is a memory too
    assert machine.memory["U2"][2] == memory[2] == 0x99


def test_where_no_memory_answers() -> None:
    memory = rom_and_ram().memory["all"]
    assert memory[0x800] == memory[0x1FFF] == -1
    with pytest.raises(LatchworkError) as caught:
        memory[0x800] = 1
    assert said(caught.value) == (
        'R106 no memory answers at address 2048 of "all"\n  machine.py:1:5\n'
        '      m.space("all", address=address, data=data, chips=[rom, ram])\n      ^\n'
        "help: its memories answer at 0 to 2047 and 4096 to 6143"
    )
    with pytest.raises(LatchworkError) as caught:
        memory[0x1000] = 256
    assert str(caught.value) == 'R103 256 does not fit "all", whose words take 0 to 255'
    with pytest.raises(IndexError):
        memory[0x2000]


def test_words_over_two_chips() -> None:
    m = Machine("wide")
    address, data = m.bus("address", 11), m.bus("data", 16)
    chips = [m.chip("6116", A=address, D=half, CE_n=LOW, OE_n=LOW, WE_n=HIGH) for half in (data[0:8], data[8:16])]
    m.space("wide", address=address, data=data, chips=chips)
    machine = running(m)
    machine.memory["wide"][7] = 0x1234
    assert [machine.memory[name][7] for name in ("U1", "U2")] == [0x34, 0x12]
    assert machine.memory["wide"][7] == 0x1234


def test_banks_of_one_chip() -> None:
    m = Machine("banked")
    address, data, bank = m.bus("address", 10), m.bus("data", 8), m.line("bank")
    ram = m.chip("6116", A=[*address, bank], D=data, CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    for name, level in (("one", LOW), ("two", HIGH)):
        m.space(name, address=address, data=data, chips=[ram], when={bank: level})
    machine = running(m)
    machine.memory["one"][9], machine.memory["two"][9] = 1, 2
    assert [machine.memory["U1"][cell] for cell in (9, 0x409)] == [1, 2]
    assert [machine.memory[name][9] for name in ("one", "two")] == [1, 2]


def test_an_order_that_the_wiring_leaves_open() -> None:
    m = Machine("open")
    address, data, bank = m.bus("address", 10), m.bus("data", 8), m.line("bank")
    rom = m.chip("28C16", A=[*address, bank], D=data, CE_n=LOW, OE_n=LOW, WE_n=OPEN)
    m.space("all", address=address, data=data, chips=[rom])
    with pytest.raises(LatchworkError) as caught:
        running(m).memory["all"]
    assert said(caught.value) == (
        'R106 the memory "all" has no order of its own: U1 pin 19 (A10) carries `bank`, which is no address bit of '
        "`all` and has no known level\n  machine.py:1:5\n"
        '      m.space("all", address=address, data=data, chips=[rom])\n      ^\n'
        "help: read the chips by their references, or: state the level it has while programs run: "
        '`m.assume("bank", LOW)`, or `when=` of the space where programs change it'
    )
