"""Adders, comparators, slices, parity and shift registers against whole numbers.

Function tables from memory of the makers' sheets (SDLS123, SDLS127, SDLS152, SDLS168, SDLS008, SDLS061, SDLS117); the
models are integers, lists and Python's own operators.
"""

from __future__ import annotations

from itertools import product

import pytest
from bench import Bench
from building import Builder
from hypothesis import given, settings
from hypothesis import strategies as st
from published import LEVELS, bench, combinations, entry_of, outputs, part_of

from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.parts import TieKind

NIBBLES = range(16)
byte = st.integers(0, 255)


def test_83_adds_and_is_a_283_apart_from_pins() -> None:
    older, newer = part_of("83"), part_of("283")
    for a, b, carry in product(NIBBLES, NIBBLES, LEVELS):
        found = outputs(older, A=a, B=b, C0=carry)
        assert found["S"] + 16 * found["C4"] == a + b + carry
    assert older.behaviour is newer.behaviour
    assert {pin.name for pin in older.pins} == {pin.name for pin in newer.pins}
    assert {pin.name: pin.number for pin in older.pins}["VCC"] == 5


CASCADE = {(1, 0, 0): (1, 0, 0), (0, 0, 1): (0, 0, 1), (1, 0, 1): (0, 0, 0), (0, 0, 0): (1, 0, 1)}


def test_85_compares_and_cascades() -> None:
    """Function table of the MC54/74F85, Motorola FAST AND LS TTL DATA p.4-37."""
    part = part_of("85")
    for a, b in product(NIBBLES, NIBBLES):
        for levels in combinations("GREATER_IN", "EQUAL_IN", "LESS_IN"):
            found = outputs(part, A=a, B=b, **levels)
            together = found["GREATER"], found["EQUAL"], found["LESS"]
            lower = tuple(levels.values())
            same = (0, 1, 0) if levels["EQUAL_IN"] else CASCADE.get(lower)
            assert together == ((1, 0, 0) if a > b else (0, 0, 1) if a < b else same)


@settings(max_examples=200)
@given(a=st.integers(0, 4095), b=st.integers(0, 4095))
def test_three_85_compare_twelve_bits(a: int, b: int) -> None:
    """Lowest package first; its equal input high, the others low (the sheets' cascade)."""
    part, lower = part_of("85"), {"GREATER": 0, "EQUAL": 1, "LESS": 0}
    for place in (0, 4, 8):
        into = {f"{name}_IN": level for name, level in lower.items()}
        lower = outputs(part, A=a >> place & 15, B=b >> place & 15, **into)
    assert lower == {"GREATER": a > b, "EQUAL": a == b, "LESS": a < b}


@pytest.mark.parametrize("number", [1, 2])
def test_183_adds_three_bits(number: int) -> None:
    part = part_of("183")
    for levels in combinations("A1", "B1", "Cn1", "A2", "B2", "Cn2"):
        found = outputs(part, **levels)
        wanted = levels[f"A{number}"] + levels[f"B{number}"] + levels[f"Cn{number}"]
        assert found[f"S{number}"] + 2 * found[f"C{number}"] == wanted


def test_280_counts_ones() -> None:
    part = part_of("280")
    for data in range(512):
        odd = data.bit_count() % 2
        assert outputs(part, DATA=data) == {"EVEN": 1 - odd, "ODD": odd}


def signed(value: int) -> int:
    return value - 16 if value & 8 else value


@pytest.mark.parametrize("number", ["381", "382"])
def test_slices_of_eight_functions(number: str) -> None:
    """Function select table, Motorola FAST AND LS TTL DATA p.4-181, p.4-186."""
    part = part_of(number)
    for a, b, carry in product(NIBBLES, NIBBLES, LEVELS):
        wanted = [0, b - a - 1 + carry, a - b - 1 + carry, a + b + carry, a ^ b, a | b, a & b, 15]
        for function, result in enumerate(wanted):
            assert outputs(part, A=a, B=b, Cn=carry, S=function)["F"] == result % 16


def test_382_carries_and_overflows_as_whole_numbers_do() -> None:
    """A subtraction gives the carry "not borrow"; overflow is a result outside of -8 .. 7 (two's complement)."""
    part = part_of("382")
    for a, b, carry in product(NIBBLES, NIBBLES, LEVELS):
        cases = {
            1: (b - a - 1 + carry >= 0, signed(b) - signed(a) - 1 + carry),
            2: (a - b - 1 + carry >= 0, signed(a) - signed(b) - 1 + carry),
            3: (a + b + carry > 15, signed(a) + signed(b) + carry),
        }
        for function, (carried, value) in cases.items():
            found = outputs(part, A=a, B=b, Cn=carry, S=function)
            assert found["Cn4"] == carried
            assert found["OVR"] == (not -8 <= value <= 7)


@settings(max_examples=100)
@given(st.integers(0, 65535), st.integers(0, 65535), st.sampled_from([1, 2, 3]), st.integers(0, 1))
def test_four_381_with_a_182_calculate_sixteen_bits(a: int, b: int, function: int, carry: int) -> None:
    """The look-ahead carries of the 182, whose tables are published (see test_alu_b.py), close the circle."""
    slices, ahead = part_of("381"), part_of("182")
    nibbles = [(a >> place & 15, b >> place & 15) for place in (0, 4, 8, 12)]
    looked = [outputs(slices, A=x, B=y, Cn=0, S=function) for x, y in nibbles]
    levels = {name: sum(found[f"{name}_n"] << place for place, found in enumerate(looked)) for name in "GP"}
    carries = outputs(ahead, Cn=carry, **levels)
    into = [carry, carries["Cnx"], carries["Cny"], carries["Cnz"]]
    total = sum(
        outputs(slices, A=x, B=y, Cn=c, S=function)["F"] << 4 * place
        for place, ((x, y), c) in enumerate(zip(nibbles, into, strict=True))
    )
    wanted = {1: b - a - 1, 2: a - b - 1, 3: a + b}[function] + carry
    assert total == wanted % 65536


@given(byte, st.one_of(byte, st.just(None)), st.integers(0, 1))
def test_521_682_684_compare_bytes(p: int, other: int | None, enable: int) -> None:
    q = p if other is None else other
    assert outputs(part_of("521"), P=p, Q=q, G_n=enable) == {"PQ_n": not (p == q and not enable)}
    for number in ("682", "684"):
        assert outputs(part_of(number), P=p, Q=q) == {"PQ_n": p != q, "GREATER_n": not p > q}
    assert entry_of("521").pins == entry_of("688").pins


def test_682_has_pull_ups_on_q_alone() -> None:
    ties = entry_of("682").behaviour.ties
    assert [(tie.a, tie.b, tie.kind) for tie in ties] == [(f"Q{bit}", "VCC", TieKind.RESISTOR) for bit in range(8)]
    assert not entry_of("684").behaviour.ties


@pytest.mark.parametrize(("number", "reads"), [("682", "low"), ("684", "nothing certain")])
def test_open_inputs_of_a_682_read_high(number: str, reads: str) -> None:
    """P at 255 and Q open: equal by the pull-ups, so /P=Q is low; without them a CMOS part is not sure of it."""
    board = Builder()
    board.add(f"74HC{number}", P=["high"] * 8, VCC="high", GND="low", PQ_n="equal_n")
    equal_n = board.net("equal_n")
    shown = Oracle(board.netlist(), unknown=True).value(equal_n)
    assert (shown is Value.LOW) == (reads == "low")


@given(st.lists(st.tuples(st.integers(0, 1), st.integers(0, 1)), max_size=20))
def test_164_shifts_the_and_of_its_inputs(levels: list[tuple[int, int]]) -> None:
    register, places = bench("164", CLR_n=1), [0] * 8
    for a, b in levels:
        register.set(A=a, B=b).pulse("CLK")
        places = [a & b, *places[:7]]
        assert [register.read(f"Q{letter}") for letter in "ABCDEFGH"] == places
    assert register.set(CLR_n=0).read("Q") == 0
    assert register.set(A=1, B=1).pulse("CLK").read("Q") == 0


def bits_out(register: Bench, count: int, into: int) -> list[int | None]:
    shown = []
    for _ in range(count):
        shown.append(register.read("QH"))
        register.set(SER=into).pulse("CLK")
    return shown


@given(byte, byte)
def test_166_loads_at_the_clock_and_shifts_out_h_first(value: int, other: int) -> None:
    register = bench("166", CLR_n=1, P=other).pulse("CLK").set(P=value)
    assert register.read("QH") == other >> 7
    register.pulse("CLK").set(SH_LD_n=1)
    assert bits_out(register, 8, into=1) == [value >> place & 1 for place in range(7, -1, -1)]
    assert bits_out(register, 8, into=0) == [1] * 8
    register.set(CLK=1).set(CLKINH=1).set(CLK=0)
    assert register.set(SH_LD_n=0, P=255).pulse("CLK").read("QH") == 0, "inhibited"
    register.set(CLK=1).set(CLKINH=0).set(CLK=0)
    assert register.pulse("CLK").read("QH") == 1
    assert register.set(CLR_n=0).read("QH") == 0


PINOUTS = {
    "85": "B3 LESS_IN EQUAL_IN GREATER_IN GREATER EQUAL LESS GND B0 A0 B1 A1 A2 B2 A3 VCC",
    "280": "G H NC I EVEN ODD GND A B C D E F VCC",
    "381": "A1 B1 A0 B0 S0 S1 S2 F0 F1 GND F2 F3 G_n P_n Cn B3 A3 B2 A2 VCC",
    "164": "A B QA QB QC QD GND CLK CLR_n QE QF QG QH VCC",
    "166": "SER A B C D CLKINH CLK GND CLR_n E F G QH H SH_LD_n VCC",
}


@pytest.mark.parametrize("number", PINOUTS)
def test_pins_stand_where_the_sheets_have_them(number: str) -> None:
    """Written down a second time, from memory of the sheets."""
    assert [pin.name for pin in part_of(number).pins] == PINOUTS[number].split()
