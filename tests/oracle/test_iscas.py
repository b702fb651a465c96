"""ISCAS-85 circuits through the oracle. Sources: Bryan, "The ISCAS 85 benchmark circuits and netlist format", MCNC
1988; Hansen, Yalcin, Hayes, "Unveiling the ISCAS-85 benchmarks", IEEE Design & Test 16 (1999): c6288 multiplies."""

from __future__ import annotations

from random import Random

import pytest
from bench_format import ISCAS, Circuit, read_bench

from latchwork.engines.oracle import Oracle

pytestmark = [
    pytest.mark.needs_shared,
    pytest.mark.skipif(not ISCAS.is_dir(), reason="the circuits are not on this computer"),
]


class Bench:
    """A circuit under power whose inputs are forced all at once."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        netlist, builder = circuit.netlist()
        self.oracle = Oracle(netlist)
        self.inputs = [builder.names[name] for name in circuit.inputs]
        self.outputs = [builder.names[name] for name in circuit.outputs]

    def outputs_for(self, levels: dict[str, int]) -> dict[str, int]:
        self.oracle.force_all({net: levels[name] for name, net in zip(self.circuit.inputs, self.inputs, strict=True)})
        return {n: int(self.oracle.value(net)) for n, net in zip(self.circuit.outputs, self.outputs, strict=True)}


def test_c17_for_all_inputs() -> None:
    circuit = read_bench(ISCAS / "c17.bench")
    bench = Bench(circuit)
    for number in range(32):
        levels = {name: number >> i & 1 for i, name in enumerate(circuit.inputs)}
        assert bench.outputs_for(levels) == circuit.evaluated(levels)


@pytest.mark.parametrize(("name", "inputs", "outputs", "gates"), [
    ("c432", 36, 7, 160), ("c499", 41, 32, 202), ("c880", 60, 26, 383),
])  # fmt: skip
def test_random_vectors(name: str, inputs: int, outputs: int, gates: int) -> None:
    circuit = read_bench(ISCAS / f"{name}.bench")
    assert (len(circuit.inputs), len(circuit.outputs), len(circuit.gates)) == (inputs, outputs, gates)
    bench, random = Bench(circuit), Random(name)
    for _ in range(200):
        levels = {net: random.getrandbits(1) for net in circuit.inputs}
        assert bench.outputs_for(levels) == circuit.evaluated(levels)


def test_c6288_multiplies() -> None:
    circuit = read_bench(ISCAS / "c6288.bench")
    bench, random = Bench(circuit), Random(6288)
    by_number = sorted(circuit.outputs, key=lambda net: int(net.removeprefix("G").removesuffix("gat")))
    by_number[-2:] = by_number[:-3:-1]  # the two highest stand swapped
    for _ in range(2000):
        a, b = random.getrandbits(16), random.getrandbits(16)
        number = a | b << 16
        found = bench.outputs_for({net: number >> i & 1 for i, net in enumerate(circuit.inputs)})
        assert sum(found[net] << i for i, net in enumerate(by_number)) == a * b
