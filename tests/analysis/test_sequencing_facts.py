"""When a new opcode is first seen by the control store: the facts against what the machine does on the oracle.

The machine's store shows, beside the line that takes the opcode, the step and the opcode that it was looked up with.
The control register, the step counter and the opcode register each work at either edge of the clock.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.analysis.sequencing import sequencing_of
from latchwork.engines.oracle import Oracle
from latchwork.load.machine import read_machine
from latchwork.netlist import Netlist

ROOT = Path(__file__).parents[2]


def machine(counter: str, register: str, opcode_edge: str) -> Machine:
    m = Machine("tagged")
    opcode = m.bus("opcode", 2)
    step = m.bus("step", 3)
    tag = m.bus("tag", 4)
    take_n = m.line("take_n")
    clock = m.clock(1_000_000)
    reset_n = m.power_on_reset()
    edges = {"rise": clock, "fall": m.gate("inverter", clock)}
    m.chip("161", label="step", CLK=edges[counter], CLR_n=reset_n, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH,
           Q=[*step, OPEN], RCO=OPEN)  # fmt: skip
    m.chip("173", label="opcode", CLK=edges[opcode_edge], CLR=m.gate("inverter", reset_n), G1_n=take_n, G2_n=LOW, M=LOW,
           N=LOW, D=[HIGH, HIGH, LOW, LOW], Q=[*opcode, OPEN, OPEN])  # fmt: skip
    shown = [*tag, take_n]
    if register:
        coming = m.bus("coming", 5)
        m.chip("377", label="word", CLK=edges[register], G_n=LOW, D=[*coming, *[LOW] * 3], Q=[*shown, *[OPEN] * 3])
        shown = list(coming)
    rom = m.chip("28C16", label="store", A=[*step, *opcode, *[LOW] * 6], D=[*shown, *[OPEN] * 3], CE_n=LOW, OE_n=LOW,
                 WE_n=HIGH)  # fmt: skip
    m.microprogram("none.micro", store=[rom], opcode=opcode)
    return m


def contents() -> bytes:
    """At each address its step (three bits), whether the opcode is the new one, and the line, low in step 1 only."""
    found = bytearray(2048)
    for address in range(2048):
        step, opcode = address & 7, address >> 3 & 3
        found[address] = step | (opcode == 3) << 3 | (step != 1) << 4
    return bytes(found)


def observed(netlist: Netlist) -> int:
    """Steps from the one that takes the opcode to the first whose word was looked up with the new one."""
    rom = next(chip for chip in range(len(netlist.chips)) if netlist.part_of(chip).name == "28C16")
    oracle = Oracle(netlist, {rom: contents()})
    tags = [netlist.net_named[f"tag[{bit}]"] for bit in range(4)]
    seen: dict[int, set[int]] = {}
    for _ in range(44):
        oracle.tick()
        tag = oracle.read(tags)
        if tag is not None and oracle.clocks > 4:
            seen.setdefault(tag & 7, set()).add(tag >> 3)
            if tag & 7 == 7:
                break
    return min(step for step, news in seen.items() if step >= 1 and news == {1}) - 1


@pytest.mark.parametrize("opcode_edge", ["rise", "fall"])
@pytest.mark.parametrize("register", ["", "rise", "fall"])
@pytest.mark.parametrize("counter", ["rise", "fall"])
def test_when_a_new_opcode_is_seen(counter: str, register: str, opcode_edge: str) -> None:
    m = machine(counter, register, opcode_edge)
    binding = m.statements().microprogram
    assert binding is not None
    facts = sequencing_of(m.netlist(), binding)
    assert facts.form == "steps"
    assert facts.delay == (1 if register else 0)
    assert len(facts.counter_states) == 3
    assert facts.opcode_lag == observed(m.netlist())


@pytest.mark.parametrize(
    ("folder", "form", "delay", "uses"),
    [
        ("machines/dunlin", "steps", 1, {("carry", "selector", 1), ("zero", "selector", 1)}),
        ("tests/machines/redshank", "start", 0, {("carry", "address", 1), ("zero", "address", 1)}),
        ("tests/machines/whimbrel", "next", 1, {("carry", "next", 2), ("zero", "next", 2)}),
    ],
)
def test_facts_of_the_machines(folder: str, form: str, delay: int, uses: set[tuple[str, str, int]]) -> None:
    """Worked out by hand from the drawings of the three machines."""
    machine = read_machine(ROOT / folder)
    assert machine.statements.microprogram is not None
    facts = sequencing_of(machine.netlist, machine.statements.microprogram)
    assert (facts.form, facts.delay) == (form, delay)
    assert {(use.name, use.by, use.lag) for use in facts.conditions} >= uses
    assert {use.by for use in facts.conditions} == {by for _, by, _ in uses}
