"""A machine under power without microprogram: counters on a bus, switches, lamps, a small RAM."""

from pathlib import Path

import pytest

import latchwork
from latchwork.problems import LatchworkError
from latchwork.tools.run.running import Running

MACHINE = """
from latchwork import HIGH, LOW, OPEN, Machine
m = Machine("counting")
clock = m.clock(1_000_000)
reset_n = m.power_on_reset()
count = m.bus("count", 4)
m.chip("161", CLK=clock, CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH, Q=count, RCO=OPEN)
keys = m.switches("keys", 4)
both = [m.gate("and", key, bit) for key, bit in zip(keys, count)]
ram = m.chip("6116", A=[*[count[i] for i in (3, 1, 0, 2)], *[LOW] * 7],
             D=[*[m.net(f"d{i}") for i in range(8)]][::-1], CE_n=LOW, OE_n=LOW, WE_n=HIGH)
m.space("scratch", address=count, data=[*ram.D][::-1], chips=[ram])
m.output("seen", both)
m.output("on_carry", count, take=count[3])
m.input("keys", keys)
m.register("count", count)
m.halt_when(count[2], HIGH)
"""


@pytest.fixture
def machine(tmp_path: Path) -> Running:
    (tmp_path / "machine.py").write_text(MACHINE)
    return latchwork.load(tmp_path)


def test_it_counts_until_it_halts(machine: Running) -> None:
    report = machine.run()
    assert (report.stop, report.reason) == ("halt", "it halted, count[2] is 1")
    assert machine["count"] == report.registers["count"] == 4
    assert report.instructions is None


def test_clocks_are_a_bound_and_a_run_goes_on(machine: Running) -> None:
    first = machine.run(until="never", clocks=20)
    assert (first.stop, first.reason, first.clocks) == ("clocks", "20 clocks have passed", 20)
    before = machine["count"]
    machine.step_clock(3)
    assert machine["count"] == (before + 3) % 16
    assert machine.clocks == 23


def test_a_value_to_stop_at(machine: Running) -> None:
    report = machine.run(until="count=0b1010")
    assert (report.stop, report.reason) == ("until", "count=0b1010 was reached")
    assert machine["count"] == 10


def test_switches_and_output_ports(machine: Running) -> None:
    machine["keys"] = 3
    assert machine["keys"] == 3
    machine.run(until="count=6")
    assert machine.output("seen") == [1, 2, 3, 0, 1, 2]
    machine["keys"] = 0
    machine.run(until="count=9")
    assert machine.output("on_carry") == [8]


def test_memory_by_space_and_by_chip(machine: Running) -> None:
    ram = machine.model.netlist.chips[machine.model.statements.spaces[0].chips[0]].reference
    machine.memory["scratch"][0b0001] = 0b1100_0101
    # Address bit 0 of the space is on the chip's A2, data runs mirrored.
    assert machine.memory[ram][0b0100] == 0b1010_0011
    assert machine.memory["scratch"][1] == 0b1100_0101
    machine.memory[ram][0b1000] = 1
    assert machine.memory["scratch"][0b0100] == 0x80
    assert len(machine.memory["scratch"]) == 16
    machine.run(until="count=1")
    assert machine["d0"] == 1


def test_two_runs_with_one_seed_are_equal(tmp_path: Path) -> None:
    (tmp_path / "machine.py").write_text(MACHINE)
    one, other = (latchwork.load(tmp_path, seed=7).run() for _ in range(2))
    assert one == other


def test_unknown_bits_are_none(tmp_path: Path) -> None:
    (tmp_path / "machine.py").write_text(MACHINE)
    machine = latchwork.load(tmp_path, unknown=True)
    assert machine["count"] is None or machine["reset_n"] == 0
    assert machine.memory["scratch"][0] == -1
    machine.run()
    assert machine["count"] == 4


def failure(action) -> str:
    with pytest.raises(LatchworkError) as raised:
        action()
    return str(raised.value)


def test_messages(machine: Running) -> None:
    assert failure(lambda: machine["cuont"]) == 'R101 the machine has nothing called "cuont" (did you mean "count"?)'
    assert failure(lambda: machine.run(until="halted")) == (
        'R104 the program has no label "halted" to stop at '
        "(write halt, never, a label of the program, or NAME=NUMBER with the name of a net, bus or register)"
    )
    assert failure(lambda: machine.run(until="count=16")) == (
        'R103 "count=16" can never be reached: the value is a number from 0 to 15 '
        "(numbers are written as 26, 0x1A or 0b11010)"
    )
    assert failure(lambda: machine.run(until="count=ten")) == (
        'R103 "count=ten" can never be reached: the value is a number from 0 to 15 '
        "(numbers are written as 26, 0x1A or 0b11010)"
    )
    assert failure(lambda: machine.__setitem__("keys", 16)) == 'R103 16 does not fit "keys", which takes 0 to 15'
    assert failure(lambda: machine.__setitem__("count", 1)) == (
        'R102 "count" can\'t be set: no switch, button or hand clock is on count[0] '
        "(only what a hand can reach on the bench can be set)"
    )
    assert failure(lambda: machine.memory["rom"]) == 'R106 the machine has no memory "rom" (it has scratch, U4)'
    assert failure(lambda: machine.accesses("rom")) == ('R106 the machine has no address space "rom" (it has scratch)')


def test_a_machine_that_never_says_it_halted(tmp_path: Path) -> None:
    (tmp_path / "machine.py").write_text(MACHINE.replace("m.halt_when(count[2], HIGH)", ""))
    assert failure(latchwork.load(tmp_path).run) == (
        "R105 the machine does not say when it has halted (write m.halt_when(net, HIGH) into machine.py, "
        "or run with --until never and a number of --clocks)"
    )


def test_a_hand_clock(tmp_path: Path) -> None:
    (tmp_path / "machine.py").write_text(MACHINE.replace("m.clock(1_000_000)", "m.hand_clock()"))
    machine = latchwork.load(tmp_path)
    machine.step_clock(20)
    assert machine.clocks == 20
    report = machine.run(until="never", clocks=5)
    assert report.stop in ("nothing", "clocks")


def test_a_label_after_an_instruction_of_two_words_is_reached() -> None:
    """Dunlin looks up the first step of an instruction while the one before still moves the program counter."""
    machine = latchwork.load(Path(__file__).parents[2] / "machines" / "dunlin")
    report = machine.run("programs/multiply.asm", until="start.next")
    assert (report.stop, machine["pc"], machine["index"]) == ("until", 14, 8)
    machine.run(until="start.turn")
    assert machine["pc"] == 20
