"""Cascades of real pins on real nets, through the oracle, against whole numbers of sixteen bits.

How counters, adders and slices are chained is that of their data sheets; the numbers are Python's own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_alu_b import ARITHMETIC, logic_of

from latchwork import HIGH, LOW, Machine
from latchwork.engines.oracle import Oracle
from latchwork.netlist import Netlist

WIDTH = 16
words = st.integers(0, 2**WIDTH - 1)
starts = st.one_of(words, st.sampled_from([0, 0xF, 0xFF, 0xFFF, 0xFFEF, 0xFFFE, 0xFFFF]))
ways = st.lists(st.integers(0, 1), min_size=1, max_size=12)


@dataclass
class Wired:
    """A machine under power whose buses and nets are set and read by name."""

    netlist: Netlist
    simulation: Oracle

    def put(self, **levels: int) -> Wired:
        for name, value in levels.items():
            for place, net in enumerate(self._nets(name)):
                self.simulation.force(net, value >> place & 1)
        return self

    def read(self, name: str) -> int | None:
        return self.simulation.read(self._nets(name))

    def strobe(self, name: str, level: int = 1) -> Wired:
        """The net to a level and back."""
        return self.put(**{name: level}).put(**{name: 1 - level})

    def _nets(self, name: str) -> Iterable[int]:
        bus = self.netlist.bus_named.get(name)
        return bus.nets if bus else (self.netlist.net_named[name],)


def powered(machine: Machine, **levels: int) -> Wired:
    netlist = machine.netlist()
    return Wired(netlist, Oracle(netlist)).put(**levels)


def counters_161() -> Wired:
    """RCO to ENT, everything else in common."""
    m = Machine("counter", family="LS", supply=5.0)
    clock, load_n, data, count = m.net("clock"), m.net("load_n"), m.bus("data", WIDTH), m.bus("count", WIDTH)
    carry = HIGH
    for low in range(0, WIDTH, 4):
        bits = slice(low, low + 4)
        stage = m.chip("161", CLK=clock, CLR_n=HIGH, LOAD_n=load_n, ENP=HIGH, ENT=carry, P=data[bits], Q=count[bits])
        carry = stage.RCO
    return powered(m, clock=0, load_n=1, data=0)


@settings(max_examples=15, deadline=None)
@given(starts, st.integers(1, 12))
def test_161(start: int, clocks: int) -> None:
    wired = counters_161().put(data=start, load_n=0).strobe("clock").put(load_n=1)
    for _ in range(clocks):
        wired.strobe("clock")
    assert wired.read("count") == (start + clocks) % 2**WIDTH


def counters_169() -> Wired:
    """/RCO to /ENT, everything else in common."""
    m = Machine("counter", family="LS", supply=5.0)
    clock, load_n, up = m.net("clock"), m.net("load_n"), m.net("up")
    data, count = m.bus("data", WIDTH), m.bus("count", WIDTH)
    carry = LOW
    for low in range(0, WIDTH, 4):
        bits = slice(low, low + 4)
        stage = m.chip("169", CLK=clock, UD=up, LOAD_n=load_n, ENP_n=LOW, ENT_n=carry, P=data[bits], Q=count[bits])
        carry = stage.RCO_n
    return powered(m, clock=0, load_n=1, up=1, data=0)


@settings(max_examples=15, deadline=None)
@given(starts, ways)
def test_169(start: int, up: list[int]) -> None:
    wired = counters_169().put(data=start, load_n=0).strobe("clock").put(load_n=1)
    for way in up:
        wired.put(up=way).strobe("clock")
    assert wired.read("count") == (start + sum(1 if way else -1 for way in up)) % 2**WIDTH


def counters_193() -> Wired:
    """/CO to UP and /BO to DOWN: all stages that turn over do so at one clock edge, in rounds."""
    m = Machine("counter", family="LS", supply=5.0)
    up, down, load_n = m.net("up"), m.net("down"), m.net("load_n")
    data, count = m.bus("data", WIDTH), m.bus("count", WIDTH)
    for low in range(0, WIDTH, 4):
        bits = slice(low, low + 4)
        stage = m.chip("193", UP=up, DOWN=down, LOAD_n=load_n, CLR=LOW, P=data[bits], Q=count[bits])
        up, down = stage.CO_n, stage.BO_n
    return powered(m, up=1, down=1, load_n=1, data=0)


@settings(max_examples=15, deadline=None)
@given(starts, ways)
def test_193(start: int, up: list[int]) -> None:
    wired = counters_193().put(data=start).strobe("load_n", 0)
    assert wired.read("count") == start
    for way in up:
        wired.strobe("up" if way else "down", 0)
    assert wired.read("count") == (start + sum(1 if way else -1 for way in up)) % 2**WIDTH


def counters_191(rippled: bool) -> Wired:
    """/RCO to CLK of the next (ripple clock), or /RCO to /CTEN with the clock in common."""
    m = Machine("counter", family="LS", supply=5.0)
    clock, load_n, down = m.net("clock"), m.net("load_n"), m.net("down")
    data, count = m.bus("data", WIDTH), m.bus("count", WIDTH)
    hold, stage_clock = LOW, clock
    for low in range(0, WIDTH, 4):
        bits = slice(low, low + 4)
        stage = m.chip("191", CLK=stage_clock, DU=down, CTEN_n=hold, LOAD_n=load_n, P=data[bits], Q=count[bits])
        hold, stage_clock = (LOW, stage.RCO_n) if rippled else (stage.RCO_n, clock)
    return powered(m, clock=1, load_n=1, down=0, data=0)


@pytest.mark.parametrize("rippled", [True, False])
@settings(max_examples=15, deadline=None)
@given(start=starts, down=ways)
def test_191(rippled: bool, start: int, down: list[int]) -> None:
    """The sheet wants D/U moved while the clock is high only; so it is here."""
    wired = counters_191(rippled).put(data=start).strobe("load_n", 0)
    for way in down:
        wired.put(down=way).strobe("clock", 0)
    assert wired.read("count") == (start + sum(-1 if way else 1 for way in down)) % 2**WIDTH


def adders_283() -> Wired:
    m = Machine("adder", family="LS", supply=5.0)
    a, b, total, carry = m.bus("a", WIDTH), m.bus("b", WIDTH), m.bus("total", WIDTH), m.net("carry")
    for low in range(0, WIDTH, 4):
        bits = slice(low, low + 4)
        out = m.net("carry_out") if low + 4 == WIDTH else m.net(f"carry_{low + 4}")
        m.chip("283", A=a[bits], B=b[bits], C0=carry, S=total[bits], C4=out)
        carry = out
    return powered(m, a=0, b=0, carry=0)


@settings(max_examples=50, deadline=None)
@given(words, words, st.integers(0, 1))
def test_283(a: int, b: int, carry: int) -> None:
    wired = ADDERS.put(a=a, b=b, carry=carry)
    assert wired.read("total") == (a + b + carry) % 2**WIDTH
    assert wired.read("carry_out") == a + b + carry >> WIDTH


def slices_181(ahead: bool) -> Wired:
    """Carries rippled from Cn+4 to Cn, or made by a 182; the A=B outputs joined under one pull-up."""
    m = Machine("slices", family="LS", supply=5.0)
    a, b, f, select = m.bus("a", WIDTH), m.bus("b", WIDTH), m.bus("f", WIDTH), m.bus("select", 4)
    logic, carry, same = m.net("logic"), m.net("carry"), m.net("same")
    m.resistor(same, HIGH, "1k")
    into = [carry, *(m.net(name) for name in ("carry_x", "carry_y", "carry_z", "carry_out"))]
    generate, propagate = m.bus("generate_n", 4), m.bus("propagate_n", 4)
    for place in range(4):
        bits = slice(4 * place, 4 * place + 4)
        out = {"Cn4": into[place + 1]} if place == 3 or not ahead else {}
        m.chip(
            "181", A=a[bits], B=b[bits], F=f[bits], S=select, M=logic, Cn=into[place], AB=same,
            G_n=generate[place], P_n=propagate[place], **out,
        )  # fmt: skip
    if ahead:
        m.chip("74S182", Cn=carry, G=generate, P=propagate, C=into[1:4])
    return powered(m, a=0, b=0, select=0, logic=0, carry=1)


@pytest.mark.parametrize("ahead", [True, False])
@pytest.mark.parametrize("select", range(16))
@settings(max_examples=12, deadline=None)
@given(a=words, b=words, carry=st.integers(0, 1))
def test_181(ahead: bool, select: int, a: int, b: int, carry: int) -> None:
    """All functions of the published table, both ways of carrying."""
    wired = SLICES[ahead].put(a=a, b=b, select=select, logic=0, carry=carry)
    arithmetic = ARITHMETIC[carry][select](a, b) % 2**WIDTH
    assert wired.read("f") == arithmetic
    assert wired.read("same") == (arithmetic == 2**WIDTH - 1)
    assert wired.put(logic=1).read("f") == logic_of(select, a, b, WIDTH)


@settings(max_examples=30, deadline=None)
@given(words, st.one_of(words, st.none()))
def test_181_compares(a: int, b: int | None) -> None:
    """Subtract with Cn high: A=B of all slices, wired together, is high where the words are equal."""
    b = a if b is None else b
    wired = SLICES[True].put(a=a, b=b, select=0b0110, logic=0, carry=1)
    assert (wired.read("same"), wired.read("carry_out")) == (a == b, a <= b)


ADDERS = adders_283()
SLICES: dict[bool, Wired] = {ahead: slices_181(ahead) for ahead in (True, False)}
