"""Decoders, encoders and selectors over all inputs, against indexing and printed shapes.

The rows of the 148 stand in tests/data/priority_encoder.json, from the table of TI SCLS109H and the connection diagram
of Motorola SN54/74LS148. Tables of 238 (TI SCHS147J), 251 (TI SCHS169D) and 147 (Motorola SN54/74LS147) were read;
the others are from memory.
"""

from __future__ import annotations

import json
import re
from itertools import product
from pathlib import Path

import pytest
from bench import Bench
from building import Builder
from published import bench, combinations, outputs, part_of

from latchwork.chips.catalogue import find
from latchwork.chips.pins import pin_name
from latchwork.engines.oracle import Oracle

ROWS = json.loads((Path(__file__).parents[1] / "data" / "priority_encoder.json").read_text(encoding="utf-8"))
TABLE = [row for row in ROWS if row["quantity"] != "DIP pinout"]
PINOUT = next(row["value"] for row in ROWS if row["quantity"] == "DIP pinout")
LEVEL = {"L": 0, "H": 1}


def test_pins_of_the_148_are_those_of_the_row() -> None:
    pins = part_of("148").pins
    assert {str(pin.number): pin.sheet for pin in pins} == PINOUT
    for pin in pins:
        given = f"I{pin.sheet[1]}_n" if re.fullmatch(r"/\d", pin.sheet) else pin_name(pin.sheet)
        assert pin.name == given


def inputs_of(quantity: str) -> list[dict[str, int]]:
    """All inputs that a row of the 148 speaks of: inputs of lower rank may be anything."""
    if quantity == "EI=H":
        return [{"EI_n": 1, "I_n": value} for value in range(256)]
    if "all inputs H" in quantity:
        return [{"EI_n": 0, "I_n": 255}]
    highest = int(quantity[-1])
    above = 255 & ~((2 << highest) - 1)
    return [{"EI_n": 0, "I_n": above | below} for below in range(1 << highest)]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["quantity"])
def test_the_148_follows_its_row(row: dict[str, str]) -> None:
    wanted = re.fullmatch(r"A\w*=([HL]{3}) GS=([HL]) EO=([HL])", row["value"])
    assert wanted, row["value"]
    code = sum(LEVEL[letter] << place for place, letter in enumerate(reversed(wanted[1])))
    for levels in inputs_of(row["quantity"]):
        assert outputs(part_of("148"), **levels) == {"A_n": code, "GS_n": LEVEL[wanted[2]], "EO_n": LEVEL[wanted[3]]}


def test_the_rows_of_the_148_cover_all_inputs() -> None:
    seen = {(levels["EI_n"], levels["I_n"]) for row in TABLE for levels in inputs_of(row["quantity"])}
    assert len(seen) == 512


def test_two_148_make_an_encoder_of_sixteen() -> None:
    """/EO of the upper to /EI of the lower, codes joined by AND: the sheet's cascade, from memory."""
    part = part_of("148")
    for active in range(16):
        for other in range(active + 1):
            lines = 0xFFFF & ~(1 << active) & ~(1 << other)
            upper = outputs(part, EI_n=0, I_n=lines >> 8)
            lower = outputs(part, EI_n=upper["EO_n"], I_n=lines & 255)
            assert (7 & ~(upper["A_n"] & lower["A_n"])) + 8 * (1 - upper["GS_n"]) == active


def test_the_147_names_the_highest_low_input() -> None:
    part = part_of("147")
    for levels in range(512):
        low = [number for number in range(1, 10) if not levels >> number - 1 & 1]
        assert outputs(part, I_n=levels)["Y_n"] == 15 - max(low, default=0)


def test_the_147_has_its_inputs_where_the_sheet_draws_them() -> None:
    """Motorola SN54/74LS147, connection diagram: 4 5 6 7 8 C B GND on one side, VCC NC D 3 2 1 9 A on the other."""
    names = "I4_n I5_n I6_n I7_n I8_n C_n B_n GND A_n I9_n I1_n I2_n I3_n D_n NC15 VCC"
    assert [pin.name for pin in part_of("147").pins] == names.split()


def test_the_42_puts_one_of_ten_low() -> None:
    for pins in combinations("A", "B", "C", "D"):
        number = pins["A"] + 2 * pins["B"] + 4 * pins["C"] + 8 * pins["D"]
        low = [index for index in range(10) if not bench("42", **pins).read(f"Y{index}")]
        assert low == ([number] if number < 10 else [])


def test_the_154_puts_one_of_sixteen_low_while_enabled() -> None:
    for pins in combinations("A", "B", "C", "D", "G1_n", "G2_n"):
        number = pins["A"] + 2 * pins["B"] + 4 * pins["C"] + 8 * pins["D"]
        decoder = bench("154", **pins)
        low = [index for index in range(16) if not decoder.read(f"Y{index}")]
        assert low == ([] if pins["G1_n"] or pins["G2_n"] else [number])


@pytest.mark.parametrize(("number", "rest"), [("155", 1), ("156", None)])
def test_the_halves_of_155_and_156(number: str, rest: int | None) -> None:
    for pins in combinations("A", "B", "C1", "G1_n", "C2_n", "G2_n"):
        decoder, select = bench(number, **pins), pins["A"] + 2 * pins["B"]
        enabled = {1: pins["C1"] and not pins["G1_n"], 2: not pins["C2_n"] and not pins["G2_n"]}
        for half, on in enabled.items():
            shown = [decoder.read(f"Y{half}_{index}") for index in range(4)]
            assert shown == [0 if on and index == select else rest for index in range(4)]


def test_a_155_with_its_data_inputs_joined_decodes_three_lines() -> None:
    """1C and /2C joined as the third line, the enables joined: from memory of the sheet's application."""
    for pins in combinations("A", "B", "third", "enable"):
        joined = {"C1": pins["third"], "C2_n": pins["third"], "G1_n": pins["enable"], "G2_n": pins["enable"]}
        decoder = bench("155", A=pins["A"], B=pins["B"], **joined)
        number = pins["A"] + 2 * pins["B"] + 4 * pins["third"]
        shown = [decoder.read(f"Y{half}_{index}") for half in (2, 1) for index in range(4)]
        assert shown == [int(pins["enable"] or index != number) for index in range(8)]


def test_the_238_is_the_inverse_of_the_138() -> None:
    for pins in combinations("A", "B", "C", "G1", "G2A_n", "G2B_n"):
        number = pins["C"] * 4 + pins["B"] * 2 + pins["A"]
        enabled = pins["G1"] and not pins["G2A_n"] and not pins["G2B_n"]
        found = bench("238", **pins).read("Y")
        assert found == (1 << number if enabled else 0)
        assert bench("138", **pins).read("Y") == 255 - found


def test_the_251_shows_the_chosen_input_or_lets_go() -> None:
    for data, select in product(range(0, 256, 5), range(8)):
        part = bench("251", D=data, S=select)
        level = data >> select & 1
        assert (part.read("Y"), part.read("W")) == (level, 1 - level)
        assert [part.set(G_n=1).read(port) for port in ("Y", "W")] == [None, None]


def test_the_253_is_a_153_that_lets_go() -> None:
    for data, select in product(range(16), range(4)):
        other = data * 7 % 16
        for first, second in product((0, 1), repeat=2):
            part = bench("253", C1=data, C2=other, S=select, G1_n=first, G2_n=second)
            assert part.read("Y1") == (None if first else data >> select & 1)
            assert part.read("Y2") == (None if second else other >> select & 1)


def test_158_and_258_invert() -> None:
    for a, b, select, disabled in product(range(16), range(0, 16, 3), (0, 1), (0, 1)):
        levels = {"A": a, "B": b, "S": select, "G_n": disabled}
        chosen = 15 - (b if select else a)
        assert bench("158", **levels).read("Y") == (15 if disabled else chosen)
        assert bench("258", **levels).read("Y") == (None if disabled else chosen)


def test_the_4051_passes_one_of_eight_channels() -> None:
    for pins in combinations("A", "B", "C", "E_n"):
        number = pins["A"] + 2 * pins["B"] + 4 * pins["C"]
        for channels in (1 << number, 255 ^ 1 << number):
            part = bench("4051", Y=channels, **pins)
            assert part.read("Z") == (None if pins["E_n"] else channels >> number & 1)


SHAPES = """
 _       _   _       _       _   _   _
| |   |  _|  _| |_| |_  |_    | |_| |_|
|_|   | |_   _|   |  _| |_|   | |_|   |
"""


def drawn(digit: int) -> str:
    """The segments of a digit, read off a drawing of the ten shapes (6 and 9 without their tails)."""
    top, middle, bottom = (line.ljust(40)[4 * digit : 4 * digit + 3] for line in SHAPES.splitlines()[1:4])
    marks = {
        "a": top[1],
        "f": middle[0],
        "g": middle[1],
        "b": middle[2],
        "e": bottom[0],
        "d": bottom[1],
        "c": bottom[2],
    }
    return "".join(letter for letter in "abcdefg" if marks[letter] != " ")


def lit(part: Bench, on: int = 1) -> str:
    return "".join(letter for letter in "abcdefg" if part.read(letter) == on)


@pytest.mark.parametrize(("name", "on"), [("74LS48", 1), ("74LS47", 0), ("74HC4511", 1)])
def test_digits_are_drawn_in_segments(name: str, on: int) -> None:
    resting = {"LT_n": 1, "BL_n": 1} if "4511" in name else {"LT_n": 1, "RBI_n": 1, "BI_RBO_n": 1}
    for digit in range(10):
        part = Bench(find(name), N=digit, **resting)
        assert lit(part, on) == drawn(digit)
        assert lit(part.set(LT_n=0), on) == "abcdefg"


def test_a_47_lets_go_of_dark_segments() -> None:
    part = Bench(find("7447"), N=1, LT_n=1, RBI_n=1, BI_RBO_n=1)
    assert [part.read(letter) for letter in "abcdefg"] == [None, 0, 0, None, None, None, None]


def test_blanking_and_ripple_blanking_of_the_48() -> None:
    """/BI over all; a zero with /RBI low is dark and pulls /RBO low, unless the lamps are tested: from memory."""
    for digit, test, ripple, blank in product(range(16), (0, 1), (0, 1), (0, 1)):
        part = Bench(find("74LS48"), N=digit, LT_n=test, RBI_n=ripple, BI_RBO_n=blank)
        suppressed = digit == 0 and not ripple and bool(test)
        assert part.read("BI_RBO_n") == (0 if suppressed else None)
        if not blank or suppressed:
            assert lit(part) == ""
        elif not test:
            assert lit(part) == "abcdefg"
        elif digit < 10:
            assert lit(part) == drawn(digit)


def test_signs_above_nine() -> None:
    """47 and 48 draw the signs of the sheet (from memory), the 4511 nothing."""
    signs = {10: "deg", 11: "cdg", 12: "bfg", 13: "adfg", 14: "defg", 15: ""}
    for digit, segments in signs.items():
        assert lit(Bench(find("74LS48"), N=digit, LT_n=1, RBI_n=1, BI_RBO_n=1)) == segments
        assert lit(Bench(find("74HC4511"), N=digit, LT_n=1, BL_n=1)) == ""


def test_the_4511_keeps_its_digit() -> None:
    part = Bench(find("74HC4511"), N=7, LT_n=1, BL_n=1)
    assert lit(part) == "abc"
    assert lit(part.set(LE=1).set(N=2)) == "abc"
    assert lit(part.set(BL_n=0)) == ""
    assert lit(part.set(LT_n=0)) == "abcdefg"
    assert lit(part.set(LT_n=1, BL_n=1).set(LE=0)) == drawn(2)


@pytest.mark.parametrize(
    ("tens", "units", "shown"), [(0, 0, ("", "abcdef")), (0, 5, ("", "acdfg")), (4, 0, ("bcfg", "abcdef"))]
)
def test_leading_zeros_stay_dark_in_the_oracle(tens: int, units: int, shown: tuple[str, str]) -> None:
    """Two 48 in a row: the upper with /RBI low, the lower with /RBI high, so that the last zero is seen; their
    /BI//RBO pins are left open and read high: common practice."""
    machine = Builder()
    for name, digit, ripple in (("tens", tens, "low"), ("units", units, "high")):
        lines = [("low", "high")[digit >> bit & 1] for bit in range(4)]
        segments = {letter: f"{name}_{letter}" for letter in "abcdefg"}
        machine.add("74LS48", N=lines, LT_n="high", RBI_n=ripple, **segments)
    oracle = Oracle(machine.netlist())
    for name, segments in zip(("tens", "units"), shown, strict=True):
        levels = {letter: oracle.read([machine.net(f"{name}_{letter}")]) for letter in "abcdefg"}
        assert "".join(letter for letter, level in levels.items() if level) == segments
