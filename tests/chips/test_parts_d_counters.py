"""Decade, ripple, eight-bit and decoding counters against whole numbers and count sequences.

Sequences and function tables are those of the makers' sheets from memory, but for the 593 (ST M54/M74HC593, truth
table) where said.
"""

from __future__ import annotations

from itertools import product

import pytest
from bench import Bench
from hypothesis import given
from hypothesis import strategies as st
from published import LEVELS, bench

COUNTS = range(16)
DIGITS = range(10)


def clocked(counter: Bench, count: int, clock: str = "CLK", **levels: int) -> int | None:
    """What a counter shows after one rising edge from a count, under given levels."""
    counter.set(**{clock: 0})
    counter.state["count"] = count
    counter.set(**levels).set(**{clock: 1})
    return counter.read("Q")


def falls(counter: Bench, clock: str) -> None:
    counter.set(**{clock: 1}).set(**{clock: 0})


def chained(number: str, times: int, second: str = "CKB", **levels: int) -> list[int | None]:
    """The counts of a two-section counter whose first output is wired to its second clock."""
    counter, shown = bench(number, **levels), []
    for _ in range(times):
        shown.append(counter.read("Q"))
        falls(counter, "CKA")
        counter.set(**{second: counter.read("QA") or 0})
    return shown


def test_the_three_ripple_counters_count_their_sequences() -> None:
    """Count sequences of Motorola FAST AND LS TTL DATA p.5-92: the 92 skips 6, 7 and leaves 14, 15."""
    assert chained("90", 21) == [*DIGITS, *DIGITS, 0]
    assert chained("92", 13) == [0, 1, 2, 3, 4, 5, 8, 9, 10, 11, 12, 13, 0]
    assert chained("93", 17) == [*COUNTS, 0]


def test_90_gives_an_even_wave_when_its_sections_are_joined_the_other_way() -> None:
    """The bi-quinary count: QD to CKA gives five low, five high on QA."""
    counter, wave = bench("90"), []
    for _ in range(20):
        falls(counter, "CKB")
        counter.set(CKA=counter.read("QD") or 0)
        wave.append(counter.read("QA"))
    assert wave[4:14] == [1] * 5 + [0] * 5


@pytest.mark.parametrize("number", ["90", "92", "93"])
def test_both_resets_clear_and_one_does_not(number: str) -> None:
    for first, second in product(LEVELS, repeat=2):
        counter = bench(number)
        counter.state |= {"first": 1, "rest": 2}
        counter.set(R01=first, R02=second)
        assert counter.read("Q") == (0 if first and second else 5)


def test_90_sets_nine_whatever_the_resets_say() -> None:
    for r1, r2, n1, n2 in product(LEVELS, repeat=4):
        counter = bench("90")
        counter.state |= {"first": 0, "rest": 3}
        counter.set(R01=r1, R02=r2, R91=n1, R92=n2)
        assert counter.read("Q") == (9 if n1 and n2 else 0 if r1 and r2 else 6)


@pytest.mark.parametrize(("number", "states"), [("90", 5), ("92", 6)])
def test_states_that_do_not_occur_are_left_at_once(number: str, states: int) -> None:
    for start in range(8):
        counter, seen = bench(number), []
        counter.state["rest"] = start
        counter.settle()
        for _ in range(2 * states):
            falls(counter, "CKB")
            seen.append(counter.state["rest"])
        assert seen[:states] == seen[states:]
        assert len(set(seen)) == states


@pytest.mark.parametrize("number", ["160", "162"])
def test_160_and_162_count_load_and_hold(number: str) -> None:
    counter = bench(number)
    for count, load, p, t in product(DIGITS, LEVELS, LEVELS, LEVELS):
        data = count * 7 % 10
        wanted = data if not load else (count + 1) % 10 if p and t else count
        assert clocked(counter, count, CLR_n=1, LOAD_n=load, ENP=p, ENT=t, P=data) == wanted
        assert counter.read("RCO") == (wanted == 9 and t)


def test_160_clears_at_once_and_162_at_the_clock() -> None:
    at_once, at_clock = (bench(number, CLR_n=1, LOAD_n=0, P=7, ENP=1, ENT=1).pulse("CLK") for number in ("160", "162"))
    assert (at_once.set(CLR_n=0).read("Q"), at_clock.set(CLR_n=0).read("Q")) == (0, 7)
    assert at_clock.set(CLK=1).read("Q") == 0, "clear goes before load"


@pytest.mark.parametrize("count", range(10, 16))
def test_decade_counters_find_back_to_digits(count: int) -> None:
    """At most two clocks up; the states 11, 13, 15 go to 6, 4, 2 (74160 state diagram, from memory)."""
    counter = bench("160", CLR_n=1, LOAD_n=1, ENP=1, ENT=1)
    first = clocked(counter, count)
    assert first == {10: 11, 11: 6, 12: 13, 13: 4, 14: 15, 15: 2}[count]
    assert (clocked(counter, first) or 0) < 10


def test_168_counts_both_ways_loads_and_carries() -> None:
    counter = bench("168")
    for count, load, p, t, up in product(DIGITS, LEVELS, LEVELS, LEVELS, LEVELS):
        data = count * 7 % 10
        moved = count if p or t else (count + (1 if up else -1)) % 10
        wanted = moved if load else data
        assert clocked(counter, count, LOAD_n=load, ENP_n=p, ENT_n=t, UD=up, P=data) == wanted
        assert counter.read("RCO_n") == (not (not t and wanted == (9 if up else 0)))


def test_190_counts_both_ways_and_tells_its_ends() -> None:
    for count, hold, down in product(DIGITS, LEVELS, LEVELS):
        counter = bench("190", LOAD_n=1)
        wanted = count if hold else (count + (-1 if down else 1)) % 10
        assert clocked(counter, count, LOAD_n=1, CTEN_n=hold, DU=down) == wanted
        at_end = wanted == (0 if down else 9)
        assert (counter.read("MAXMIN"), counter.read("RCO_n")) == (at_end, 1)
        assert counter.set(CLK=0).read("RCO_n") == (not (at_end and not hold))
    assert bench("190", LOAD_n=1).set(P=6, LOAD_n=0).read("Q") == 6


def test_192_counts_by_either_clock_and_ripples_carry_and_borrow() -> None:
    for count, other in product(DIGITS, LEVELS):
        for clock, idle, step in (("UP", "DOWN", 1), ("DOWN", "UP", -1)):
            counter = bench("192", LOAD_n=1, **{clock: 0, idle: other})
            counter.state["count"] = count
            counter.settle()
            assert counter.read("CO_n") == (not (count == 9 and not counter.pins["UP"]))
            assert counter.read("BO_n") == (not (count == 0 and not counter.pins["DOWN"]))
            assert counter.set(**{clock: 1}).read("Q") == ((count + step) % 10 if other else count)
    assert bench("192", LOAD_n=1).set(P=5, LOAD_n=0, CLR=1).read("Q") == 0


def test_two_160_chained_count_a_hundred() -> None:
    """RCO to ENT, as in the 161's cascade."""
    low, high = (bench("160", CLR_n=1, LOAD_n=1, ENP=1) for _ in range(2))
    shown = []
    for _ in range(101):
        shown.append((low.read("Q") or 0) + 10 * (high.read("Q") or 0))
        low.set(ENT=1)
        high.set(ENT=low.read("RCO") or 0)
        low.pulse("CLK")
        high.pulse("CLK")
    assert shown == [*range(100), 0]


@pytest.mark.parametrize("half", [1, 2])
def test_the_halves_of_a_390_and_a_393_count_alone(half: int) -> None:
    decade, shown = bench("390"), []
    binary = bench("393")
    for wanted in range(20):
        shown.append(decade.read(f"Q{half}"))
        falls(decade, f"CKA{half}")
        decade.set(**{f"CKB{half}": decade.read(f"QA{half}") or 0})
        assert binary.read(f"Q{half}") == wanted % 16
        falls(binary, f"CLK{half}")
    assert shown == [*DIGITS, *DIGITS]
    for counter in (decade, binary):
        assert counter.read(f"Q{3 - half}") == 0
        assert counter.set(**{f"CLR{half}": 1}).read(f"Q{half}") == 0


def test_569_counts_clears_loads_and_lets_go() -> None:
    counter = bench("569", ACLR_n=1)
    for count, clear, load, p, t, up in product((0, 7, 14, 15), *[LEVELS] * 5):
        moved = count if p or t else (count + (1 if up else -1)) % 16
        wanted = 0 if not clear else 9 if not load else moved
        levels = {"SCLR_n": clear, "LOAD_n": load, "ENP_n": p, "ENT_n": t, "UD": up, "P": 9}
        assert clocked(counter, count, **levels) == wanted
        carry = not t and wanted == (15 if up else 0)
        assert (counter.read("RCO_n"), counter.read("CCO_n")) == (not carry, 1)
        counter.set(CLK=0)
        assert counter.read("CCO_n") == (not (carry and not p and clear and load))
    assert counter.set(OE_n=1).read("Q") is None
    assert counter.set(OE_n=0, ACLR_n=0).read("Q") == 0


def test_590_shows_the_count_that_the_register_took() -> None:
    counter = bench("590", CCLR_n=1)
    for count in (0, 1, 127, 254, 255):
        counter.state["count"] = count
        counter.settle()
        assert counter.read("RCO_n") == (count != 255)
        assert counter.set(CCKEN_n=1).pulse("CCLK").pulse("RCLK").read("Q") == count
        assert counter.set(CCKEN_n=0).pulse("CCLK").read("Q") == count
        assert counter.set(CCLK=1, RCLK=1).set(CCLK=0, RCLK=0).read("Q") == (count + 1) % 256
        assert counter.pulse("RCLK").read("Q") == (count + 2) % 256
    assert counter.set(OE_n=1).read("Q") is None
    assert counter.set(OE_n=0, CCLR_n=0).pulse("RCLK").read("Q") == 0


@given(st.integers(0, 255), st.integers(0, 1), st.integers(0, 1), st.integers(0, 1), st.integers(0, 1))
def test_593_by_its_truth_table(value: int, enable: int, enable_n: int, clear: int, load: int) -> None:
    """ST M54/M74HC593 October 1993, truth table: load, clear and the two count enables.

    Bus enables are those of TI SCAS203. Clear together with load is in neither table: from memory.
    """
    counter = bench("593", CCLR_n=1, CLOAD_n=1, RCKEN_n=0, G=0, Q=value).pulse("RCK")
    counter.set(Q=value ^ 0x5A, RCKEN_n=1).pulse("RCK")
    counter.set(CLOAD_n=0).set(CLOAD_n=1, CCKEN=enable, CCKEN_n=enable_n).pulse("CCK")
    moved = (value + (1 if enable or not enable_n else 0)) % 256
    assert counter.read("Q") is None
    assert counter.set(G=1).read("Q") == moved
    assert counter.read("RCO_n") == (moved != 255)
    assert counter.set(G_n=1).read("Q") is None
    counter.set(G_n=0, CCLR_n=clear, CLOAD_n=load)
    assert counter.read("Q") == (0 if not clear else value if not load else moved)


def test_669_is_a_169() -> None:
    later, known = bench("669"), bench("169")
    assert [(pin.number, pin.name) for pin in later.part.pins] == [(pin.number, pin.name) for pin in known.part.pins]
    for count, load, p, t, up in product(COUNTS, LEVELS, LEVELS, LEVELS, LEVELS):
        levels = {"LOAD_n": load, "ENP_n": p, "ENT_n": t, "UD": up, "P": 11}
        moved = 11 if not load else count if p or t else (count + (1 if up else -1)) % 16
        assert clocked(later, count, **levels) == moved


def test_4017_walks_its_outputs_and_carries_half_the_time() -> None:
    counter = bench("4017")
    for step in range(25):
        assert counter.read("Q") == 1 << step % 10
        assert counter.read("CO") == (step % 10 < 5)
        if step % 2:
            counter.pulse("CP0")
        else:
            counter.set(CP1_n=1).set(CP0=1).set(CP1_n=0).set(CP0=0)
    assert counter.set(CP1_n=1).pulse("CP0").read("Q") == 1 << 5, "inhibited"
    assert counter.set(MR=1).read("Q") == 1


@pytest.mark.parametrize("start", range(32))
def test_4017_finds_its_ring_from_any_state(start: int) -> None:
    """Within 11 clocks: Philips 74HC/HCT4017 December 1990 p.2."""
    counter = bench("4017")
    counter.state["ring"] = start
    counter.settle()
    counter.pulse("CP0", 11)
    shown = [counter.pulse("CP0").read("Q") or 0 for _ in range(10)]
    assert sorted(shown) == [1 << place for place in DIGITS]


@given(st.integers(0, 2**12 - 1))
def test_4040_counts_falling_edges(count: int) -> None:
    counter = bench("4040")
    counter.state["count"] = count
    counter.settle()
    assert counter.set(CLK=1).read("Q") == count
    assert counter.set(CLK=0).read("Q") == (count + 1) % 2**12
    assert counter.read("Q12") == (count + 1) % 2**12 >> 11
    assert counter.set(CLR=1).read("Q") == 0


@given(st.integers(0, 2**14 - 1))
def test_4060_shows_ten_of_its_fourteen_stages(count: int) -> None:
    counter = bench("4060")
    counter.state["count"] = count
    counter.settle()
    assert (counter.read("RTC"), counter.read("CTC")) == (1, 0)
    assert (counter.set(RS=1).read("RTC"), counter.read("CTC")) == (0, 1)
    counter.set(RS=0)
    following = (count + 1) % 2**14
    for stage in (4, 5, 6, 7, 8, 9, 10, 12, 13, 14):
        assert counter.read(f"Q{stage}") == following >> stage - 1 & 1
    assert counter.set(RS=1, MR=1).read("Q") == 0
    assert (counter.read("RTC"), counter.read("CTC")) == (1, 0), "reset stops the oscillator"


PINOUTS = {
    "90": "CKB R01 R02 NC4 VCC R91 R92 QC QB GND QD QA NC13 CKA",
    "390": "CKA1 CLR1 QA1 CKB1 QB1 QC1 QD1 GND QD2 QC2 QB2 CKB2 QA2 CLR2 CKA2 VCC",
    "393": "CLK1 CLR1 QA1 QB1 QC1 QD1 GND QD2 QC2 QB2 QA2 CLR2 CLK2 VCC",
    "4017": "Q5 Q1 Q0 Q2 Q6 Q7 Q3 GND Q8 Q4 Q9 CO CP1_n CP0 MR VCC",
    "4040": "Q12 Q6 Q5 Q7 Q4 Q3 Q2 GND Q1 CLK CLR Q9 Q8 Q10 Q11 VCC",
}


@pytest.mark.parametrize("number", PINOUTS)
def test_pins_stand_where_the_sheets_have_them(number: str) -> None:
    """Written down a second time, from memory of the sheets."""
    pins = bench(number).part.pins
    assert [pin.name for pin in pins] == PINOUTS[number].split()
    assert [pin.number for pin in pins] == list(range(1, len(pins) + 1))
