"""A machine without a microprogram, worked by hand: every press does what its switches say, against plain integers."""

from __future__ import annotations

import random
from pathlib import Path

import latchwork

SANDERLING = Path(__file__).parents[2] / "machines" / "sanderling"
NOBODY, ACC, KEYS, TOTAL = range(4)


def test_presses_agree_with_integers() -> None:
    rng = random.Random(11)
    machine = latchwork.load(SANDERLING)
    machine["show"], machine["acc_take_n"], machine["keys"] = KEYS, 0, 0x5A
    machine.step_clock()
    acc = 0x5A
    for _ in range(300):
        show, take_n, carry, keys = rng.randrange(4), rng.randrange(2), rng.randrange(2), rng.randrange(256)
        machine["show"], machine["acc_take_n"], machine["carry_in"], machine["keys"] = show, take_n, carry, keys
        shown = {NOBODY: 0xFF, ACC: acc, KEYS: keys, TOTAL: (acc + keys + carry) & 0xFF}[show]
        assert machine["data"] == shown
        machine.step_clock()
        acc = acc if take_n else shown

        assert machine["acc"] == acc
    assert not machine.incidents
