"""ISCAS circuits through both engines with random patterns. Sources: Bryan, "The ISCAS 85 benchmark circuits and
netlist format", MCNC 1988; Brglez, Bryan, Kozminski, "Combinational profiles of sequential benchmark circuits",
ISCAS 1989."""

from __future__ import annotations

import os
from random import Random

import pytest
from bench_format import ISCAS, read_bench
from lockstep import Lockstep

DEEP = "LATCHWORK_NETLISTS" in os.environ
"""The two largest are compiled for a minute and more each: in ``make deep``."""

pytestmark = [
    pytest.mark.needs_shared,
    pytest.mark.skipif(not ISCAS.is_dir(), reason="the circuits are not on this computer"),
]


@pytest.mark.parametrize(
    ("name", "patterns"), [("c499", 150), ("c880", 150), ("c1355", 100), *([("c6288", 60)] if DEEP else ())]
)
def test_random_patterns(name: str, patterns: int) -> None:
    circuit = read_bench(ISCAS / f"{name}.bench")
    netlist, builder = circuit.netlist()
    pair, random = Lockstep(netlist), Random(name)
    for _ in range(patterns):
        levels = {builder.names[net]: random.getrandbits(1) for net in circuit.inputs}
        for simulation in pair.both:
            simulation.force_all(levels)
        pair.compare()
    assert pair.compiled.native_ticks > patterns // 2


@pytest.mark.parametrize(
    ("name", "flipflops", "clocks"), [("s298", 14, 200), ("s344", 15, 200), *([("s5378", 179, 30)] if DEEP else ())]
)
def test_clocked_circuits(name: str, flipflops: int, clocks: int) -> None:
    """Both engines, and the circuit worked out by recursion, from where all flip-flops were set to 0."""
    circuit = read_bench(ISCAS / f"{name}.bench")
    assert len(circuit.flipflops) == flipflops
    netlist, builder = circuit.netlist()
    pair, random = Lockstep(netlist), Random(name)
    held = dict.fromkeys(circuit.flipflops, 0)
    for chip in range(len(netlist.chips)):
        for register in netlist.part_of(chip).behaviour.registers:
            for simulation in pair.both:
                simulation.set_state(chip, register.name, 0)
    for _ in range(clocks):
        levels = {net: random.getrandbits(1) for net in circuit.inputs}
        inputs = {builder.names[net]: level for net, level in levels.items()}
        for clock in (0, 1):
            for simulation in pair.both:
                simulation.force_all({**inputs, builder.names["clock"]: clock})
            pair.compare()
        held = circuit.after_clock({**levels, **held})
        shown = {net: int(pair.compiled.value(builder.names[net])) for net in held}
        assert shown == held
    assert pair.compiled.native_ticks > clocks
