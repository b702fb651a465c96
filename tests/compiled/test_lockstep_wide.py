"""Random machines with buses of eight bits in both engines: tick by tick, and in whole clocks."""

from __future__ import annotations

import pytest
from lockstep import Lockstep
from wide_netlists import wide_netlist


def compared_wide(number: int) -> Lockstep:
    netlist = wide_netlist(number)
    ticking, running = Lockstep(netlist, seed=number), Lockstep(netlist, seed=number)
    for _ in range(90):
        ticking.tick()
    ticking.compare_states()
    running.compiled.worth_it = 1
    for clocks in (1, 3, 20, 2, 60):
        running.run(clocks)
        running.compare_states()
    return running


@pytest.mark.parametrize("number", range(10))
def test_wide_netlists_agree(number: int) -> None:
    compared_wide(number)


def test_they_are_compiled_and_meet_trouble() -> None:
    pairs = [compared_wide(number) for number in range(10)]
    kinds = {incident.kind for pair in pairs for incident in pair.oracle.incidents}
    assert {"fight", "floating", "power-up read"} <= kinds
    assert sum(p.compiled.native_ticks for p in pairs) > sum(p.compiled.oracle_ticks for p in pairs)
