"""Parts that must agree with arrangements of other parts: common practice and the applications of the makers' sheets.

All inputs where there is no state, long random sequences where there is.
"""

from __future__ import annotations

import random
from itertools import product

from published import bench, combinations, outputs, part_of


def test_half_a_153_is_half_a_151() -> None:
    """With C tied low and the upper inputs low: from the function tables."""
    small, large = part_of("153"), part_of("151")
    for data, select, strobe in product(range(16), range(4), (0, 1)):
        half = outputs(small, C1=data, C2=0, S=select, G1_n=strobe, G2_n=1)["Y1"]
        assert half == outputs(large, D=data, S=select, G_n=strobe)["Y"]


def test_a_154_is_two_138() -> None:
    """D chooses between them at an active-low and an active-high enable."""
    for pins in combinations("A", "B", "C", "D", "G1_n", "G2_n"):
        select = {letter: pins[letter] for letter in "ABC"}
        lower = bench("138", G1=1 - pins["G2_n"], G2A_n=pins["G1_n"], G2B_n=pins["D"], **select).read("Y")
        upper = bench("138", G1=pins["D"], G2A_n=pins["G1_n"], G2B_n=pins["G2_n"], **select).read("Y")
        assert bench("154", **pins).read("Y") == lower + (upper << 8)


def test_a_42_with_d_as_enable_is_a_138() -> None:
    for pins in combinations("A", "B", "C", "D"):
        shown = bench("42", **pins).read("Y") & 255
        select = {letter: pins[letter] for letter in "ABC"}
        assert shown == bench("138", G1=1, G2A_n=pins["D"], G2B_n=0, **select).read("Y")


def test_a_109_with_j_and_k_joined_is_a_74() -> None:
    jk, plain, chance = bench("109"), bench("74"), random.Random("109")
    seen = set()
    for _ in range(1500):
        pin, level = chance.choice(["D1", "CLK1", "CLK1", "PRE1_n", "CLR1_n"]), chance.randrange(2)
        if pin.endswith("_n") and not level and chance.random() < 0.7:
            continue
        jk.set(**({"J1": level, "K1_n": level} if pin == "D1" else {pin: level}))
        plain.set(**{pin: level})
        both = plain.read("Q1"), plain.read("Q1_n")
        assert (jk.read("Q1"), jk.read("Q1_n")) == both
        seen.add(both)
    assert {(0, 1), (1, 0)} <= seen


def test_a_198_is_two_194_in_a_row() -> None:
    """The serial inputs join the halves: from memory of the sheet's application."""
    whole, low, high = bench("74198"), bench("194"), bench("194")
    chance = random.Random("198")
    for part in (whole, low, high):
        part.set(CLR_n=1)
    for _ in range(600):
        word, select, up, down = (chance.getrandbits(width) for width in (8, 2, 1, 1))
        whole.set(P=word, S=select, SRSER=up, SLSER=down)
        low.set(P=word & 15, S=select, SRSER=up, SLSER=high.read("QA") or 0)
        high.set(P=word >> 4, S=select, SRSER=low.read("QD") or 0, SLSER=down)
        for part in (whole, low, high):
            part.pulse("CLK")
        assert whole.read("Q") == (low.read("Q") or 0) + ((high.read("Q") or 0) << 4)


def test_a_378_is_a_174_with_its_output_fed_back() -> None:
    """A 378 holds what a 174 keeps when 157s feed its outputs back."""
    enabled, plain, chance = bench("378"), bench("174", CLR_n=1), random.Random("378")
    for _ in range(400):
        word, hold = chance.getrandbits(6), chance.randrange(2)
        enabled.set(D=word, G_n=hold).pulse("CLK")
        plain.set(D=plain.read("Q") if hold else word).pulse("CLK")
        assert enabled.read("Q") == plain.read("Q")


def test_a_251_and_a_253_show_what_151_and_153_show_while_enabled() -> None:
    for data, select in product(range(256), range(8)):
        assert outputs(part_of("251"), D=data, S=select, G_n=0) == outputs(part_of("151"), D=data, S=select, G_n=0)
    for first, second, select in product(range(16), range(16), range(4)):
        levels = {"C1": first, "C2": second, "S": select, "G1_n": 0, "G2_n": 0}
        assert outputs(part_of("253"), **levels) == outputs(part_of("153"), **levels)


def test_a_51_is_three_gates() -> None:
    """The AND-OR-invert of a 7451 from a 00 twice and a 08: by the laws of logic."""
    for pins in combinations("A", "B", "C", "D"):
        nand = bench("00", A1=pins["A"], B1=pins["B"], A2=pins["C"], B2=pins["D"])
        conjunction = bench("08", A1=nand.read("Y1") or 0, B1=nand.read("Y2") or 0)
        gate = bench("51", **{f"{letter}2": level for letter, level in pins.items()})
        assert gate.read("Y2") == conjunction.read("Y1")
