"""A multiplier of 124 packages against integer arithmetic."""

from __future__ import annotations

from random import Random

import pytest
from multiplier import multiplier

from latchwork.engines.oracle import Oracle


@pytest.mark.slow
def test_two_thousand_products() -> None:
    builder, a, b, product = multiplier()
    oracle = Oracle(builder.netlist())
    factors = [builder.names[net] for net in a + b]
    result = [builder.names[net] for net in product]
    random = Random(16)
    special = [(0, 0), (65535, 65535), (1, 65535), (32768, 2), (65535, 0)]
    pairs = special + [(random.getrandbits(16), random.getrandbits(16)) for _ in range(2_000 - len(special))]
    for x, y in pairs:
        number = x | y << 16
        oracle.force_all({net: number >> i & 1 for i, net in enumerate(factors)})
        assert oracle.read(result) == x * y
    assert len(pairs) == 2_000
    assert len(oracle.netlist.chips) == 64 + 60
    assert not oracle.incidents
