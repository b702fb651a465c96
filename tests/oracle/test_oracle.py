"""The oracle's own surface: memories, states, hands, clocks, reports, bad input."""

from __future__ import annotations

from dataclasses import replace

import pytest
from building import Builder
from small_parts import (
    AND,
    CLOCKED_RAM,
    CMOS_BUFFER,
    COUNTER,
    FLIP_FLOP,
    KEEPING_RAM,
    LEVEL_RAM,
    NAND,
    NOT,
    OPEN_COLLECTOR,
    THREE_STATE,
)

from latchwork.base.position import Position
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Simulation, Value
from latchwork.engines.seeding import seeded
from latchwork.netlist import Netlist
from latchwork.problems import LatchworkError


def counter(clock: str = "crystal oscillator", **parameters: int) -> Builder:
    builder = Builder(clock="clk")
    builder.add(clock, OUT="clk", parameters=parameters)
    builder.add(COUNTER, "count", C="clk", R="low", T="high", Q=builder.bus("q", 4))
    return builder


def test_clocks_are_rising_edges_and_ticks_settlings() -> None:
    oracle: Simulation = Oracle(counter(period=1000).netlist())
    assert (oracle.time_ps, oracle.ticks, oracle.clocks, oracle.next_time) == (0, 0, 0, 500)
    oracle.set_state(1, "count", 3)
    assert oracle.run(5) == 5
    assert (oracle.time_ps, oracle.ticks, oracle.clocks) == (4500, 10, 5)
    assert oracle.state(1, "count") == 8


def test_a_hand_clock_is_worked_by_run_and_by_hand() -> None:
    oracle = Oracle(counter("hand clock").netlist())
    oracle.set_state(1, "count", 0)
    assert not oracle.tick()
    oracle.set_hand(0, 1)
    oracle.set_hand(0, 0)
    assert (oracle.clocks, oracle.time_ps, oracle.state(1, "count")) == (1, 0, 1)
    assert oracle.run(3) == 3
    assert oracle.state(1, "count") == 4


def test_a_clock_that_stands_still_does_not_hang() -> None:
    builder = Builder(clock="clk")
    builder.add("oscillator", OUT="other", parameters={"period": 10})
    builder.add(AND, A="other", B="low", Y="clk")
    assert Oracle(builder.netlist(), patience=50).run(3) == 0


def test_an_odd_period_keeps_its_length() -> None:
    oracle = Oracle(counter(period=7).netlist())
    oracle.run(101)
    assert oracle.time_ps == 3 + 100 * 7


def test_power_up_values_are_those_of_the_seed() -> None:
    oracle = Oracle(counter(period=1000).netlist(), seed=5)
    assert oracle.state(1, "count") == seeded(5, "count.count", 4)
    ram = Builder()
    ram.add(CLOCKED_RAM, "store", W="low", O="low", A=["low"] * 3, D=["d0", "d1"])
    assert list(Oracle(ram.netlist(), seed=9).memory(0)) == [seeded(9, f"store.cells.{cell}", 2) for cell in range(8)]
    assert set(Oracle(ram.netlist(), unknown=True).memory(0)) == {-1}


def test_contents_and_erased_cells() -> None:
    builder = Builder()
    builder.add(KEEPING_RAM, W="low", O="high", A=["high", "low", "low"], D=["d0", "d1"])
    for unknown in (False, True):
        oracle = Oracle(builder.netlist(), {0: bytes([1, 2])}, unknown=unknown)
        assert list(oracle.memory(0)) == [1, 2, 3, 3, 3, 3, 3, 3]
        assert oracle.read([builder.names["d0"], builder.names["d1"]]) == 2
        oracle.write_memory(0, bytes([0]), 1)
        assert oracle.read([builder.names["d0"], builder.names["d1"]]) == 0
        assert oracle.power_up_reads() == {}


def test_a_cell_that_was_never_written_is_reported_when_shown() -> None:
    builder = Builder()
    builder.add("hand clock", OUT="show")
    builder.add(LEVEL_RAM, "ram", W="low", O="show", A=["high", "low", "low"], D=["d0", "d1"])
    for unknown in (False, True):
        oracle = Oracle(builder.netlist(), unknown=unknown)
        assert oracle.power_up_reads() == {}
        oracle.set_hand(0, 1)
        assert oracle.power_up_reads() == {(1, "cells"): (1,)}
        assert [(each.kind, each.chips) for each in oracle.incidents] == [("power-up read", (1,))]
        oracle.forget_incidents()
        oracle.set_hand(0, 0)
        oracle.write_memory(1, bytes([2]), 1)
        oracle.set_hand(0, 1)
        assert not oracle.incidents
        assert oracle.power_up_reads() == {}


def test_unknown_states_are_listed() -> None:
    oracle = Oracle(counter(period=1000).netlist(), unknown=True)
    assert oracle.unknown_states() == [(1, "count")]
    assert oracle.state(1, "count") is None
    oracle.set_state(1, "count", 9)
    assert oracle.unknown_states() == []


def test_an_unknown_strobe_makes_the_whole_memory_unknown() -> None:
    for ram in (KEEPING_RAM, LEVEL_RAM):
        builder = Builder()
        builder.add(FLIP_FLOP, C="low", D="low", R="low", S="low", Q="x")
        for strobe in ("x", "low"):
            builder.add(ram, W=strobe, O="low", A=["low"] * 3, D=["d0", "d1"])
        oracle = Oracle(builder.netlist(), {1: bytes(8), 2: bytes(8)}, unknown=True)
        assert list(oracle.memory(2)) == [0] * 8
        assert set(oracle.memory(1)) == {-1}


def test_force_wins_and_lets_go() -> None:
    builder = Builder()
    builder.add(NOT, A="low", Y="y")
    builder.add(CMOS_BUFFER, A="y", Y="z")
    oracle = Oracle(builder.netlist())
    y, z = builder.names["y"], builder.names["z"]
    oracle.force(y, 0)
    assert (oracle.value(y), oracle.value(z)) == (Value.LOW, Value.LOW)
    oracle.force(y, None)
    assert (oracle.value(y), oracle.value(z)) == (Value.HIGH, Value.HIGH)
    assert not oracle.incidents


def test_incidents_are_counted_not_repeated() -> None:
    builder = Builder()
    builder.add("hand clock", OUT="a")
    builder.add(THREE_STATE, "left", A="high", E="a", Y="bus")
    builder.add(THREE_STATE, "right", A="low", E="high", Y="bus")
    builder.add("hand clock", OUT="other")
    oracle = Oracle(builder.netlist())
    for _ in range(3):
        oracle.set_hand(0, 1)
        oracle.set_hand(3, 1)
        oracle.set_hand(3, 0)
        oracle.set_hand(0, 0)
    (fight,) = oracle.incidents
    assert (fight.kind, fight.count, fight.tick, fight.chips) == ("fight", 3, 1, (1, 2))
    assert fight.sentence == "three-state U2 (left) and three-state U3 (right) drive bus to different levels"


@pytest.mark.parametrize("seed", range(6))
def test_a_pair_of_gates_let_go_at_once_falls_to_one_side(seed: int) -> None:
    """Both inputs of a NAND latch rise together: metastable on the bench, here the seed decides, for good."""
    builder = Builder()
    builder.add("hand clock", OUT="both")
    builder.add(NAND, A="both", B="q_n", Y="q")
    builder.add(NAND, A="both", B="q", Y="q_n")
    oracle = Oracle(builder.netlist(), seed=seed)
    q, q_n = builder.names["q"], builder.names["q_n"]
    assert (oracle.value(q), oracle.value(q_n)) == (1, 1)
    oracle.set_hand(0, 1)
    chosen = oracle.value(q)
    assert oracle.value(q_n) == 1 - chosen
    assert [(each.kind, each.count) for each in oracle.incidents] == [("oscillation", 1)]
    oracle.set_hand(0, 1)
    assert (oracle.value(q), oracle.incidents[0].count) == (chosen, 1)


def test_supply_and_ground_joined_is_reported() -> None:
    builder = Builder()
    builder.add("switch", A="high", B="low")
    oracle = Oracle(builder.netlist())
    oracle.set_switch(0, True)
    assert [each.kind for each in oracle.incidents] == ["fight"]
    assert (oracle.value(0), oracle.value(1)) == (Value.HIGH, Value.LOW)


def test_wired_and_of_open_collectors_with_one_pull() -> None:
    builder = Builder()
    for name in "abc":
        builder.add("hand clock", OUT=name)
        builder.add(OPEN_COLLECTOR, A=name, Y="bus")
    builder.pull("bus", "high")
    oracle = Oracle(builder.netlist())
    for number in range(8):
        for index in range(3):
            oracle.set_hand(2 * index, number >> index & 1)
        assert oracle.value(builder.names["bus"]) == int(number == 7)


def placed(netlist: Netlist) -> Netlist:
    """With the chips in the lines of a file, as a description has them."""
    chips = [replace(chip, position=Position("cases", line)) for line, chip in enumerate(netlist.chips, start=1)]
    return replace(netlist, chips=tuple(chips))


def test_a_part_without_its_time_is_refused() -> None:
    for parameters in ({}, {"period": 1}, {"period": -5}):
        with pytest.raises(LatchworkError) as refused:
            Oracle(placed(counter(**parameters).netlist()))
        found = repr(parameters["period"]) if parameters else "none"
        assert str(refused.value) == (
            f'cases:1: R201 crystal oscillator U1 needs "period" in picoseconds, at least 2; it has {found} '
            "(state the time where the part is placed)"
        )


def test_contents_that_do_not_fit_are_refused() -> None:
    builder = Builder()
    builder.add(KEEPING_RAM, W="low", O="high", A=["low"] * 3, D=["d0", "d1"])
    builder.add(NOT, A="low", Y="y")
    with pytest.raises(LatchworkError) as refused:
        Oracle(placed(builder.netlist()), {0: bytes(9), 1: b"x"})
    assert str(refused.value).splitlines() == [
        "cases:1: R202 keeping ram U1 holds 8 bytes, it was given 9 (give it no more than it holds)",
        "cases:2: R202 not U2 holds 0 bytes, it was given 1 (give it no more than it holds)",
    ]


def test_wrong_calls_say_what_there_is() -> None:
    oracle = Oracle(counter(period=10).netlist())
    for call, error, words in (
        (lambda: oracle.state(1, "held"), KeyError, 'has no state "held"; it has count'),
        (lambda: oracle.set_state(1, "count", 16), ValueError, "does not fit the 4 bits"),
        (lambda: oracle.memory(1), KeyError, "has no memory"),
        (lambda: oracle.set_switch(1, True), KeyError, "has no switch"),
        (lambda: oracle.set_hand(1, 1), KeyError, "is not operated by hand"),
        (lambda: oracle.restore(5), TypeError, "save"),
    ):
        with pytest.raises(error, match=words):
            call()
