"""A failing netlist becomes a small text case, which fails with the mistake and holds without it."""

from __future__ import annotations

from pathlib import Path

import pytest
from random_netlists import random_netlist
from seeded_bugs import BUGS
from shrinking import case_at, keep, shrunk
from test_lockstep_random import differs

from latchwork.netlist import Netlist

SIZE, FEW = 14, 4


def test_a_mistake_leaves_a_small_case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, wrong = BUGS["a level is taken for an edge"]
    with monkeypatch.context() as patch:
        patch.setattr(where, name, wrong(getattr(where, name)))
        seed = next(number for number in range(30) if differs(random_netlist(number, SIZE), number))
        small = shrunk(random_netlist(seed, SIZE), lambda netlist: differs(netlist, seed))
        path = keep(small, seed, tmp_path)
        assert len(small.chips) <= FEW
        assert differs(*case_at(path))
    assert not differs(*case_at(path))


def test_no_chip_of_what_is_left_can_be_spared() -> None:
    netlist = random_netlist(4, 12)
    needed = {netlist.chips[number].reference for number in (1, 5, 6)}

    def fails(tried: Netlist) -> bool:
        return needed <= {chip.reference for chip in tried.chips}

    assert {chip.reference for chip in shrunk(netlist, fails).chips} == needed
