"""ALU slice, look-ahead carry, adder and comparator, alone and in cascades, against published tables and integers."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import LEVELS, TABLES, bench, combinations, outputs, part_of, row

ALU, LOOKAHEAD, ADDER, COMPARATOR = (part_of(number) for number in ("181", "182", "283", "688"))
SELECTS = range(16)
NIBBLES = range(16)
Function = Callable[[int, int], int]
Cascade = Callable[[int, int, int, int, int], tuple[int, int]]


def published(column: str, select: int) -> Function:
    """A cell of the function table as a function of whole numbers of any width."""
    text = str(TABLES["74181", f"S3S2S1S0={select:04b}"]["value"][column])
    formula = text.replace("plus", "+").replace("minus", "-")
    assert re.fullmatch(r"[AB01~&|^()+\- ]+", formula), text
    code = compile(formula, text, "eval")
    return lambda a, b: int(eval(code, {"__builtins__": {}}, {"A": a, "B": b}))


LOGIC = [published("M_H_logic", select) for select in SELECTS]
ARITHMETIC = {
    1: [published("M_L_Cn_H_no_carry", select) for select in SELECTS],
    0: [published("M_L_Cn_L_with_carry", select) for select in SELECTS],
}


def logic_of(select: int, a: int, b: int, width: int) -> int:
    return LOGIC[select](a, b) % 2**width if select != 0b1100 else 2**width - 1  # "1" is a one in every bit


def x_word(select: int, a: int, b: int) -> int:
    return (a, a | b, a | ~b & 15, 15)[select & 3]


def y_word(select: int, a: int, b: int) -> int:
    return (0, a & ~b, a & b, a)[select >> 2]


@pytest.mark.parametrize("select", SELECTS)
@row("74181", *(f"S3S2S1S0={select:04b}" for select in SELECTS))
@row("74181", "A=B output", "X/Y identities")
def test_181_gives_the_published_functions_for_all_operands_and_carries(select: int) -> None:
    for a, b, carry in product(NIBBLES, NIBBLES, LEVELS):
        logic = outputs(ALU, A=a, B=b, S=select, M=1, Cn=carry)
        plain = outputs(ALU, A=a, B=b, S=select, M=0, Cn=carry)
        x, y = x_word(select, a, b), y_word(select, a, b)
        assert logic["F"] == logic_of(select, a, b, 4) == ~(x ^ y) & 15
        assert plain["F"] == ARITHMETIC[carry][select](a, b) % 16 == (x + y + 1 - carry) % 16
        assert plain["Cn4"] == logic["Cn4"] == int(x + y + 1 - carry < 16), "active low"
        assert (logic["AB"], plain["AB"]) == (logic["F"] == 15, plain["F"] == 15)


def test_181_lets_its_equality_output_go_where_the_result_is_all_ones() -> None:
    """Open collector: it pulls low or drives nothing (NTE74LS181 p.4)."""
    subtracting = bench("181", S=0b0110, M=0, Cn=1)
    assert subtracting.set(A=9, B=9).read("AB") is None
    assert subtracting.set(A=9, B=8).read("AB") == 0


@row("74181", "comparison Cn,Cn+4 (subtract mode S=0110)")
def test_181_compares_by_its_carry_while_it_subtracts() -> None:
    text = TABLES["74181", "comparison Cn,Cn+4 (subtract mode S=0110)"]["value"]
    relations = dict(re.findall(r"([HL]{2}): A([<>]=?)B", text))
    assert relations == {"HH": "<=", "HL": ">", "LH": "<", "LL": ">="}
    holds: dict[str, Function] = {
        "<=": lambda a, b: a <= b,
        ">": lambda a, b: a > b,
        "<": lambda a, b: a < b,
        ">=": lambda a, b: a >= b,
    }
    for a, b, carry in product(NIBBLES, NIBBLES, LEVELS):
        carry_out = outputs(ALU, A=a, B=b, S=0b0110, M=0, Cn=carry)["Cn4"]
        assert holds[relations["LH"[carry] + "LH"[carry_out]]](a, b)


@row("74181", "P and G in ADD mode")
def test_181_generates_and_propagates_as_said_for_active_low_operands() -> None:
    """A propagate may stay high where there is a generate: then the sum is 15 or more by that alone."""
    for a, b in product(NIBBLES, NIBBLES):
        found = outputs(ALU, A=15 - a, B=15 - b, S=0b1001, M=0, Cn=0)
        propagate, generate = not found["P_n"], not found["G_n"]
        assert generate == (a + b >= 16)
        assert (propagate or generate) == (a + b >= 15)
        assert propagate == (a | b == 15)
        assert not propagate or a + b >= 15


def test_181_carry_out_follows_from_generate_and_propagate() -> None:
    """Cn+4 high where /G is low, or /P is low and Cn high: what a 182 makes of them."""
    for select, a, b, carry in product(SELECTS, NIBBLES, NIBBLES, LEVELS):
        found = outputs(ALU, A=a, B=b, S=select, M=0, Cn=carry)
        assert found["Cn4"] == (not found["G_n"] or (not found["P_n"] and carry))


@row("74182", "Cn+x HIGH when", "Cn+y HIGH when", "Cn+z HIGH when", "G LOW when", "P LOW when")
def test_182_gives_the_published_sums_of_products() -> None:
    for high in combinations("G0", "G1", "G2", "G3", "P0", "P1", "P2", "P3", "Cn"):
        g0, g1, g2, g3, p0, p1, p2, p3 = (not level for name, level in high.items() if name != "Cn")
        cn = high["Cn"]
        pins = {name: sum(high[f"{name}{place}"] << place for place in range(4)) for name in "GP"}
        assert outputs(LOOKAHEAD, Cn=cn, **pins) == {
            "Cnx": g0 or (p0 and cn),
            "Cny": g1 or (p1 and g0) or (p1 and p0 and cn),
            "Cnz": g2 or (p2 and g1) or (p2 and p1 and g0) or (p2 and p1 and p0 and cn),
            "G_n": not (g3 or (p3 and g2) or (p3 and p2 and g1) or (p3 and p2 and p1 and g0)),
            "P_n": not (p3 and p2 and p1 and p0),
        }


def nibble(word: int, place: int) -> int:
    return word >> 4 * place & 15


def rippled(a: int, b: int, select: int, mode: int, carry: int) -> tuple[int, int]:
    """Four slices, Cn+4 to Cn: the word and the last carry."""
    word = 0
    for place in range(4):
        found = outputs(ALU, A=nibble(a, place), B=nibble(b, place), S=select, M=mode, Cn=carry)
        word, carry = word | found["F"] << 4 * place, found["Cn4"]
    return word, carry


def looked_ahead(a: int, b: int, select: int, mode: int, carry: int) -> tuple[int, int]:
    """Four slices with a 182 between them: the word and the last carry."""
    operands = [(nibble(a, place), nibble(b, place)) for place in range(4)]
    first = [outputs(ALU, A=x, B=y, S=select, M=mode, Cn=carry) for x, y in operands]
    pins = {name: sum(found[f"{name}_n"] << place for place, found in enumerate(first)) for name in "GP"}
    ahead = outputs(LOOKAHEAD, Cn=carry, **pins)
    carries = (carry, ahead["Cnx"], ahead["Cny"], ahead["Cnz"])
    slices = [outputs(ALU, A=x, B=y, S=select, M=mode, Cn=into) for (x, y), into in zip(operands, carries, strict=True)]
    return sum(found["F"] << 4 * place for place, found in enumerate(slices)), slices[-1]["Cn4"]


words = st.integers(0, 0xFFFF)


@pytest.mark.parametrize("connected", [rippled, looked_ahead])
@pytest.mark.parametrize("select", SELECTS)
@settings(max_examples=30)
@given(a=words, b=words, carry=st.integers(0, 1))
def test_four_181_make_sixteen_bits(connected: Cascade, select: int, a: int, b: int, carry: int) -> None:
    """All functions on random operands against whole numbers; the table's formulas do not know a width."""
    assert connected(a, b, select, 0, carry)[0] == ARITHMETIC[carry][select](a, b) % 2**16
    assert connected(a, b, select, 1, carry)[0] == logic_of(select, a, b, 16)
    assert connected(a, b, select, 0, carry) == rippled(a, b, select, 0, carry)


@given(words, words)
def test_four_181_carry_as_sums_and_differences_do(a: int, b: int) -> None:
    """Carry of plus, and no borrow of minus, both active low."""
    assert looked_ahead(a, b, 0b1001, 0, 1) == ((a + b) % 2**16, a + b < 2**16)
    assert looked_ahead(a, b, 0b0110, 0, 0) == ((a - b) % 2**16, a < b)


@row("74283", "equation")
def test_283_adds_all_operands_and_both_carries() -> None:
    for a, b, carry in product(NIBBLES, NIBBLES, LEVELS):
        found = outputs(ADDER, A=a, B=b, C0=carry)
        assert found["S"] + 16 * found["C4"] == a + b + carry


def test_283_adds_the_worked_example_of_the_sheet() -> None:
    """Motorola SN54/74LS283 p.5-2, active high: 10 + 9 = 19, by the single pins."""
    adder = bench("283", A1=0, A2=1, A3=0, A4=1, B1=1, B2=0, B3=0, B4=1, C0=0)
    assert [adder.read(pin) for pin in ("S1", "S2", "S3", "S4", "C4")] == [1, 1, 0, 0, 1]


@given(words, words, st.integers(0, 1))
def test_four_283_add_sixteen_bits(a: int, b: int, carry: int) -> None:
    total, into = 0, carry
    for place in range(4):
        found = outputs(ADDER, A=nibble(a, place), B=nibble(b, place), C0=into)
        total, into = total | found["S"] << 4 * place, found["C4"]
    assert total + (into << 16) == a + b + carry


def test_688_tells_equal_bytes() -> None:
    """From memory (SN74LS688): all pairs of bytes against Python's own comparison."""
    for p, q in product(range(256), (*range(0, 256, 15), 1, 2, 254)):
        assert outputs(COMPARATOR, P=p, Q=q, G_n=0)["PQ_n"] == (p != q)
        assert outputs(COMPARATOR, P=q, Q=p, G_n=0)["PQ_n"] == (p != q)
        assert outputs(COMPARATOR, P=p, Q=p, G_n=0)["PQ_n"] == 0
        assert outputs(COMPARATOR, P=p, Q=q, G_n=1)["PQ_n"] == 1
