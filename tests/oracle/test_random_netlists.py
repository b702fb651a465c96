"""Seeded runs are equal; what the unknown reading calls known agrees with every seeded run; saving and restoring
change nothing. On random netlists, the trade's usual check that two readings of one machine agree."""

from __future__ import annotations

import pytest
from random_netlists import contents_for, random_netlist, stir

from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.netlist import Netlist

CLOCKS = 12


def moments(netlist: Netlist, clocks: int = CLOCKS, **how: int | bool) -> list[tuple[Value, ...]]:
    """All nets after each half of the main clock; the machine is stirred after power-up and later again."""
    oracle = Oracle(netlist, contents_for(netlist), **how)  # type: ignore[arg-type]
    found = [shown(oracle)]
    for half in range(1, 2 * clocks):
        if half % 9 == 1:
            stir(oracle, half)
        to_time(oracle, half * 500)
        found.append(shown(oracle))
    return found


def to_time(oracle: Oracle, time: int) -> None:
    """Run over all events up to and including a time; they all come at multiples of 50 ps."""
    while oracle.next_time is not None and oracle.next_time <= time:
        oracle.tick()


def shown(oracle: Oracle) -> tuple[Value, ...]:
    return tuple(oracle.value(net) for net in range(len(oracle.netlist.nets)))


def disagreement(netlist: Netlist, seeds: int) -> str:
    """The first known value that a seeded run does not have, in words; empty where there is none."""
    unknown = moments(netlist, unknown=True)
    for seed in range(seeds):
        for half, (open_, chosen) in enumerate(zip(unknown, moments(netlist, seed=seed), strict=True)):
            for net, (a, b) in enumerate(zip(open_, chosen, strict=True)):
                if a not in (Value.UNKNOWN, b):
                    return f"seed {seed}, half {half}, {netlist.nets[net].name}: {a.name}, but {b.name}"
    return ""


# 3305 and 3317 once found a clock edge lost at a switch; 3303 and 3370 fail where unknown clocks are not watched.
@pytest.mark.parametrize("number", [*range(40), 3303, 3305, 3317, 3370])
def test_what_is_called_known_holds_for_every_seed(number: int) -> None:
    assert disagreement(random_netlist(number, 4 + number % 40), seeds=20 if number < 8 else 4) == ""


@pytest.mark.parametrize("number", range(100, 110))
def test_two_seeded_runs_are_equal(number: int) -> None:
    netlist = random_netlist(number, 30)
    assert moments(netlist, seed=number) == moments(netlist, seed=number)


def test_seeds_differ_somewhere() -> None:
    netlist = random_netlist(3, 30)
    assert len({tuple(moments(netlist, clocks=2, seed=seed)) for seed in range(5)}) > 1


@pytest.mark.parametrize("unknown", [False, True])
@pytest.mark.parametrize("number", range(200, 212))
def test_a_restored_machine_goes_on_as_before(number: int, unknown: bool) -> None:
    netlist = random_netlist(number, 30)
    oracle = Oracle(netlist, contents_for(netlist), unknown=unknown)
    to_time(oracle, 3_700)
    saved = oracle.save()

    def rest() -> list[object]:
        found: list[object] = []
        for time in range(4_000, 9_000, 500):
            to_time(oracle, time)
            found += [shown(oracle), oracle.ticks, oracle.clocks, list(oracle.incidents)]
        return found

    first = rest()
    oracle.restore(saved)
    assert rest() == first
    oracle.restore(saved)
    fresh = Oracle(netlist, contents_for(netlist), unknown=unknown)
    to_time(fresh, 3_700)
    assert (shown(oracle), list(oracle.incidents)) == (shown(fresh), list(fresh.incidents))


def test_something_is_known_and_something_is_not() -> None:
    """The comparison above compares: over all net-moments much is known, and not all."""
    values = [
        value for number in range(20) for moment in moments(random_netlist(number), unknown=True) for value in moment
    ]
    known = sum(value != Value.UNKNOWN for value in values)
    assert 0.3 < known / len(values) < 0.98


def test_random_netlists_meet_every_kind_of_incident() -> None:
    missing = {"fight", "floating", "oscillation", "moving address", "short pulse", "race", "power-up read"}
    for number in range(60):
        oracle = Oracle(random_netlist(number, 30), seed=1)
        to_time(oracle, 6_000)
        missing -= {incident.kind for incident in oracle.incidents}
        if not missing:
            break
    assert not missing
