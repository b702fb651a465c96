"""Every one of more than thirty mistakes is caught by the comparison with the oracle: a licence that lets them pass
would be none. The common practice of mutation testing."""

from __future__ import annotations

import os

import pytest
from lockstep import Lockstep
from random_netlists import contents_for, random_netlist
from seeded_bugs import BUGS, HOT_BUGS
from test_hot_random import compared_hot, take_any_two_states
from test_lockstep_cases import CASES
from test_lockstep_cases import test_compiled_code_follows_the_case as follow_the_case
from test_lockstep_devices import test_devices_that_drive_at_random as restless_devices_agree
from test_lockstep_hot import model_of as hot_model
from test_lockstep_hot import pair_of as hot_pair
from test_lockstep_hot import test_microcode_edited_by_hand as microcode_edited
from test_lockstep_hot import test_watching_runs_hot_and_stops_where_general_code_does as watching_stops
from test_lockstep_machines import DUNLIN, dunlin_with, pair_of
from test_lockstep_moments import test_random_machines_go_back_and_forth as random_walks_agree
from test_lockstep_random import compared
from test_lockstep_wide import compared_wide

DEEP = "LATCHWORK_NETLISTS" in os.environ
MOST = 24


def random_netlists_agree() -> None:
    """Tick by tick, and in whole clocks."""
    for number in range(MOST):
        compared(number, 5 + number % 20)
        netlist = random_netlist(1000 + number, 4 + number % 8)
        pair = Lockstep(netlist, contents_for(netlist), seed=number)
        pair.compiled.worth_it = 1
        for clocks in (1, 2, 5, 20, 3):
            pair.run(clocks)
        pair.compare_states()


def wide_netlists_agree() -> None:
    for number in range(10):
        compared_wide(number)


def cases_hold() -> None:
    for path in CASES:
        follow_the_case(path, seed=3)


def dunlin_agrees() -> None:
    """Memories that a program writes and reads, control words, whole clocks."""
    pair = pair_of(dunlin_with("sort.asm"), seed=4)
    pair.compiled.worth_it = 1
    for clocks in (1, 700, 2, 900):
        pair.run(clocks)
        pair.compare_states()


def devices_agree() -> None:
    """Devices that drive at random, and machines that are taken back."""
    for seed in (20, *range(6)):
        restless_devices_agree(seed)
        random_walks_agree(seed)


def caught() -> bool:
    """Whether something tells the two engines apart."""
    for check in (random_netlists_agree, wide_netlists_agree, devices_agree, dunlin_agrees, cases_hold):
        try:
            check()
        except AssertionError:
            return True
    return False


@pytest.mark.parametrize("bug", BUGS if DEEP else list(BUGS)[::4])
def test_the_bug_is_caught(bug: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, wrong = BUGS[bug]
    monkeypatch.setattr(where, name, wrong(getattr(where, name)))
    assert caught()


def test_there_are_thirty() -> None:
    assert len(BUGS) >= 30
    assert len(HOT_BUGS) >= 8


def hot_code_agrees(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of Dunlin, also with its control store written by hand meanwhile, and of random netlists."""
    pair = hot_pair(hot_model(DUNLIN, DUNLIN / "programs" / "sort.asm"), seed=5)
    for clocks in (1, 400, 800):
        pair.run(clocks)
    pair.compare_states()
    assert pair.compiled.hot_clocks > 300
    microcode_edited()
    watching_stops()
    with monkeypatch.context() as patched:
        take_any_two_states(patched)
        for number in range(300, 306):
            netlist = random_netlist(number, 4 + number % 12)
            compared_hot(netlist, contents_for(netlist), number)


@pytest.mark.parametrize("bug", HOT_BUGS if DEEP else list(HOT_BUGS)[::4])
def test_the_bug_of_hot_code_is_caught(bug: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, wrong = HOT_BUGS[bug]
    monkeypatch.setattr(where, name, wrong(getattr(where, name)))
    with pytest.raises(AssertionError):
        hot_code_agrees(monkeypatch)
