"""ISCAS circuits through both engines with random patterns. Sources: Bryan, "The ISCAS 85 benchmark circuits and
netlist format", MCNC 1988; Brglez, Bryan, Kozminski, "Combinational profiles of sequential benchmark circuits",
ISCAS 1989."""

from __future__ import annotations

from random import Random

import pytest
from bench_format import ISCAS, read_bench
from lockstep import Lockstep

pytestmark = [
    pytest.mark.needs_shared,
    pytest.mark.skipif(not ISCAS.is_dir(), reason="the circuits are not on this computer"),
]


@pytest.mark.parametrize("name", ["c499", "c880"])
def test_random_patterns(name: str) -> None:
    circuit = read_bench(ISCAS / f"{name}.bench")
    netlist, builder = circuit.netlist()
    pair, random = Lockstep(netlist), Random(name)
    for _ in range(150):
        levels = {builder.names[net]: random.getrandbits(1) for net in circuit.inputs}
        for simulation in pair.both:
            simulation.force_all(levels)
        pair.compare()
    assert pair.compiled.native_ticks > 90
