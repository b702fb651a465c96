"""Counters, alone and in cascades, against published tables and whole numbers."""

from __future__ import annotations

from itertools import product

import pytest
from bench import Bench
from hypothesis import given, settings
from hypothesis import strategies as st
from published import LEVELS, bench, row

COUNTS = range(16)


def clocked(counter: Bench, count: int, **levels: int) -> int | None:
    """What a counter shows after one clock from a count, under given levels."""
    counter.set(CLK=0)
    counter.state["count"] = count
    counter.set(**levels).set(CLK=1)
    return counter.read("Q")


@pytest.mark.parametrize("number", ["161", "163"])
@row("74161/163", "count enable", "LOAD", "sequence", "function table rows Reset,Load,EnP,EnT")
def test_161_and_163_count_load_and_hold(number: str) -> None:
    counter = bench(number)
    for count, load, p, t in product(COUNTS, LEVELS, LEVELS, LEVELS):
        data = count * 5 % 16
        wanted = data if not load else (count + 1) % 16 if p and t else count
        assert clocked(counter, count, CLR_n=1, LOAD_n=load, ENP=p, ENT=t, P=data) == wanted


@row("74161/163", "CLR")
def test_161_clears_at_once_and_163_at_the_clock() -> None:
    at_once, at_clock = (bench(number, CLR_n=1, LOAD_n=0, P=9, ENP=1, ENT=1).pulse("CLK") for number in ("161", "163"))
    assert (at_once.set(CLR_n=0).read("Q"), at_clock.set(CLR_n=0).read("Q")) == (0, 9)
    assert (at_once.set(CLK=1).read("Q"), at_clock.set(CLK=1).read("Q")) == (0, 0), "clear goes before load"
    assert at_once.set(CLR_n=1).read("Q") == 0


@row("74161/163", "carry (TC/RCO)")
@pytest.mark.parametrize("number", ["161", "163"])
def test_161_and_163_carry_while_full_and_enabled_by_ent(number: str) -> None:
    for count, p, t in product(COUNTS, LEVELS, LEVELS):
        counter = bench(number, CLR_n=1, LOAD_n=1, ENP=p, ENT=t)
        counter.state["count"] = count
        assert counter.read("RCO") == (count == 15 and t)


def test_161_takes_nothing_on_the_falling_edge() -> None:
    counter = bench("161", CLR_n=1, LOAD_n=1, ENP=1, ENT=1, CLK=1)
    assert counter.set(CLK=0).read("Q") == 0


def test_the_single_pins_are_the_bits_of_the_vectors() -> None:
    for number in ("161", "163", "169", "191", "193"):
        counter = bench(number, CLR_n=1) if number in {"161", "163"} else bench(number)
        clock = "UP" if number == "193" else "CLK"
        counter.set(A=1, B=0, C=0, D=1, LOAD_n=0).pulse(clock)
        assert [counter.read(pin) for pin in ("QA", "QB", "QC", "QD")] == [1, 0, 0, 1]
        assert counter.read("Q") == 9


@row("74169", "count", "LOAD", "CLR")
def test_169_counts_both_ways_loads_and_holds() -> None:
    counter = bench("169")
    assert not [pin for pin in counter.part.pins if pin.name.startswith("CL") and pin.name != "CLK"]
    for count, load, p, t, up in product(COUNTS, LEVELS, LEVELS, LEVELS, LEVELS):
        data = count * 5 % 16
        moved = count if p or t else (count + (1 if up else -1)) % 16
        assert clocked(counter, count, LOAD_n=load, ENP_n=p, ENT_n=t, UD=up, P=data) == (moved if load else data)


@row("74169", "RCO")
def test_169_carries_at_the_end_it_goes_to() -> None:
    for count, p, t, up in product(COUNTS, LEVELS, LEVELS, LEVELS):
        counter = bench("169", LOAD_n=1, ENP_n=p, ENT_n=t, UD=up)
        counter.state["count"] = count
        assert counter.read("RCO_n") == (not (not t and count == (15 if up else 0)))


def test_191_counts_both_ways_and_holds() -> None:
    """From memory (SN74LS191), against an integer model."""
    counter = bench("191", LOAD_n=1)
    for count, hold, down in product(COUNTS, LEVELS, LEVELS):
        wanted = count if hold else (count + (-1 if down else 1)) % 16
        assert clocked(counter, count, LOAD_n=1, CTEN_n=hold, DU=down) == wanted


def test_191_loads_at_once_and_whatever_the_clock_does() -> None:
    counter = bench("191", LOAD_n=1)
    assert counter.set(P=6).read("Q") == 0
    assert counter.set(LOAD_n=0).read("Q") == 6
    assert counter.pulse("CLK").read("Q") == 6
    assert counter.set(P=11).read("Q") == 11
    assert counter.set(LOAD_n=1).set(P=1).pulse("CLK").read("Q") == 12


def test_191_tells_its_ends_and_ripples_its_clock() -> None:
    """From memory (SN74LS191): /RCO low while MAX/MIN is high and /CTEN and CLK are low."""
    for count, hold, down, clock in product(COUNTS, LEVELS, LEVELS, LEVELS):
        counter = bench("191", LOAD_n=1, CTEN_n=hold, DU=down, CLK=clock)
        counter.state["count"] = count
        at_end = count == (0 if down else 15)
        assert counter.read("MAXMIN") == at_end
        assert counter.read("RCO_n") == (not (at_end and not hold and not clock))


@row("74193", "count up", "count down")
def test_193_counts_by_the_clock_that_rises_while_the_other_is_high() -> None:
    for count, other in product(COUNTS, LEVELS):
        for clock, idle, step in (("UP", "DOWN", 1), ("DOWN", "UP", -1)):
            counter = bench("193", LOAD_n=1, **{clock: 0, idle: other})
            counter.state["count"] = count
            counter.settle()
            assert counter.set(**{clock: 1}).read("Q") == ((count + step) % 16 if other else count)
            assert counter.set(**{clock: 0}).read("Q") == ((count + step) % 16 if other else count)


@row("74193", "CO", "BO")
def test_193_carries_and_borrows_while_the_clock_is_low() -> None:
    for count, up, down in product(COUNTS, LEVELS, LEVELS):
        counter = bench("193", LOAD_n=1, UP=up, DOWN=down)
        counter.state["count"] = count
        assert counter.read("CO_n") == (not (count == 15 and not up))
        assert counter.read("BO_n") == (not (count == 0 and not down))


@row("74193", "LOAD", "CLR")
def test_193_loads_and_clears_at_once_and_clear_goes_first() -> None:
    counter = bench("193", LOAD_n=1, UP=1, DOWN=1)
    assert counter.set(P=13, LOAD_n=0).read("Q") == 13
    assert counter.set(UP=0).set(UP=1).read("Q") == 13
    assert counter.set(CLR=1).read("Q") == 0
    assert counter.set(LOAD_n=1).read("Q") == 0
    assert counter.set(CLR=0).set(UP=0).set(UP=1).read("Q") == 1


def loaded(counters: list[Bench], start: int) -> None:
    for place, counter in enumerate(counters):
        counter.state["count"] = start >> 4 * place & 15
        counter.settle()


def shown(counters: list[Bench]) -> int:
    return sum((counter.read("Q") or 0) << 4 * place for place, counter in enumerate(counters))


starts = st.one_of(st.integers(0, 0xFFFF), st.sampled_from([0, 0xF, 0xFF, 0xFFF, 0xFFEF, 0xFFFE, 0xFFFF]))


@settings(max_examples=25)
@given(starts, st.integers(1, 20))
def test_four_161_chained_by_their_carries_count_sixteen_bits(start: int, clocks: int) -> None:
    """RCO to ENT, clock and ENP in common: the cascade of the data sheets."""
    counters = [bench("161", CLR_n=1, LOAD_n=1, ENP=1) for _ in range(4)]
    loaded(counters, start)
    for _ in range(clocks):
        enable: int | None = 1
        for counter in counters:
            enable = counter.set(ENT=enable or 0).read("RCO")
        for counter in counters:
            counter.pulse("CLK")
    assert shown(counters) == (start + clocks) % 2**16


@settings(max_examples=25)
@given(starts, st.lists(st.integers(0, 1), min_size=1, max_size=20))
def test_four_169_chained_by_their_carries_count_both_ways(start: int, ways: list[int]) -> None:
    counters = [bench("169", LOAD_n=1, ENP_n=0) for _ in range(4)]
    loaded(counters, start)
    for up in ways:
        enable: int | None = 0
        for counter in counters:
            enable = counter.set(UD=up, ENT_n=enable or 0).read("RCO_n")
        for counter in counters:
            counter.pulse("CLK")
    assert shown(counters) == (start + sum(1 if up else -1 for up in ways)) % 2**16


def rippled(counters: list[Bench], level: int | None, into: str, out: str) -> None:
    """A level handed on from counter to counter, each settling before the next."""
    for counter in counters:
        level = counter.set(**{into: level or 0}).read(out)


@settings(max_examples=25)
@given(starts, st.lists(st.integers(0, 1), min_size=1, max_size=20))
def test_four_193_ripple_their_carries_and_borrows(start: int, ways: list[int]) -> None:
    counters = [bench("193", LOAD_n=1, UP=1, DOWN=1) for _ in range(4)]
    loaded(counters, start)
    for up in ways:
        into, out = ("UP", "CO_n") if up else ("DOWN", "BO_n")
        rippled(counters, 0, into, out)
        rippled(counters, 1, into, out)
    assert shown(counters) == (start + sum(1 if up else -1 for up in ways)) % 2**16


@settings(max_examples=25)
@given(starts, st.integers(0, 1), st.integers(1, 20))
def test_four_191_ripple_their_clock(start: int, down: int, clocks: int) -> None:
    counters = [bench("191", LOAD_n=1, DU=down, CLK=1) for _ in range(4)]
    loaded(counters, start)
    for _ in range(clocks):
        rippled(counters, 0, "CLK", "RCO_n")
        rippled(counters, 1, "CLK", "RCO_n")
    assert shown(counters) == (start + (-clocks if down else clocks)) % 2**16
