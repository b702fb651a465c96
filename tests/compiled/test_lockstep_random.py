"""Random netlists through both engines, tick by tick on all nets: the trade's usual check of an optimising engine.

``make test`` compares 50; ``make deep`` more, by LATCHWORK_NETLISTS. A netlist that fails is made small and kept as a
text case in ``tests/cases``, which is compared from then on.
"""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest
from constructs import EVERY, constructs
from lockstep import Lockstep
from random_netlists import contents_for, random_netlist, stir
from shrinking import CASES, case_at, keep, shrunk

from latchwork.netlist import Netlist

COUNT = int(os.environ.get("LATCHWORK_NETLISTS", "50"))
HALVES = 24
SIZES = range(4, 36)
BATCH = 10


def compared(number: int, size: int) -> Lockstep:
    """A random netlist in both engines. AssertionError where they differ."""
    return compared_netlist(random_netlist(number, size), number)


def compared_netlist(netlist: Netlist, seed: int) -> Lockstep:
    """Both engines over some clocks; stirred now and then. AssertionError where they differ."""
    pair = Lockstep(netlist, contents_for(netlist), seed=seed)
    pair.compare()
    for half in range(1, HALVES):
        if half % 9 == 1:
            for simulation in pair.both:
                stir(simulation, half)
            pair.compare()
        pair.to_time(half * 500)
    pair.compare_states()
    return pair


def differs(netlist: Netlist, seed: int) -> bool:
    try:
        compared_netlist(netlist, seed)
    except AssertionError:
        return True
    return False


@pytest.mark.parametrize("start", range(0, COUNT, BATCH))
def test_random_netlists_agree(start: int) -> None:
    for number in range(start, min(start + BATCH, COUNT)):
        size = SIZES[number % len(SIZES)]
        try:
            compared(number, size)
        except AssertionError as failure:
            small = shrunk(random_netlist(number, size), lambda netlist, seed=number: differs(netlist, seed))  # type: ignore[misc]
            pytest.fail(f"{failure}\nmade small, with {len(small.chips)} chips: {keep(small, number)}")


@pytest.mark.parametrize("path", sorted(CASES.glob("*.netlist")), ids=lambda path: path.stem)
def test_what_failed_once_agrees(path: Path) -> None:
    compared_netlist(*case_at(path))


def test_every_construct_is_compared() -> None:
    found: Counter[str] = Counter()
    for number in range(min(COUNT, 50)):
        found += constructs(random_netlist(number, SIZES[number % len(SIZES)]))
    print(dict(found))
    assert [name for name in EVERY if not found[name]] == []


def test_compiled_code_does_most_of_a_quiet_run_itself() -> None:
    """What the comparison compares is compiled code, and not the oracle with itself."""
    pairs = [compared(number, 6) for number in range(12)]
    native, oracle = sum(p.compiled.native_ticks for p in pairs), sum(p.compiled.oracle_ticks for p in pairs)
    assert native > oracle


@pytest.mark.parametrize("number", range(300, 306))
def test_whole_clocks_agree(number: int) -> None:
    """Long runs, in which whole clocks are compiled."""
    netlist = random_netlist(number, 8)
    pair = Lockstep(netlist, contents_for(netlist), seed=number)
    pair.compiled.worth_it = 1
    for clocks in (1, 2, 7, 30, 1, 60):
        pair.run(clocks)
    pair.compare_states()
