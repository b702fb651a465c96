"""Decoders and selectors, every input combination, against published tables and plain indexing."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st
from published import bench, combinations, outputs, part_of, row


@row("74138", "G1=L or G2A=H or G2B=H", "G1=H,G2A=G2B=L")
def test_138_puts_the_chosen_output_low_while_enabled() -> None:
    part = part_of("138")
    for pins in combinations("A", "B", "C", "G1", "G2A_n", "G2B_n"):
        select = pins["C"] * 4 + pins["B"] * 2 + pins["A"]
        enabled = pins["G1"] and not pins["G2A_n"] and not pins["G2B_n"]
        decoder = bench("138", **pins)
        for number in range(8):
            assert decoder.read(f"Y{number}") == (not (enabled and number == select))
        assert outputs(part, S=select, **pins)["Y"] == (255 - 2**select if enabled else 255)


def test_139_puts_the_chosen_output_of_each_half_low() -> None:
    """From memory (SN74LS139A), against an integer model; the halves know nothing of each other."""
    pins_of = [combinations(f"A{half}", f"B{half}", f"G{half}_n") for half in (1, 2)]
    for first, second in product(*pins_of):
        decoder = bench("139", **first, **second)
        for half, pins in ((1, first), (2, second)):
            chosen = pins[f"B{half}"] * 2 + pins[f"A{half}"]
            outputs_low = [number for number in range(4) if not decoder.read(f"Y{half}_{number}")]
            assert outputs_low == ([] if pins[f"G{half}_n"] else [chosen])


def test_151_shows_the_chosen_input_and_its_inverse() -> None:
    """From memory (SN74LS151), against an integer model, all input combinations."""
    part = part_of("151")
    for data, select, strobe in product(range(256), range(8), (0, 1)):
        wanted = data >> select & 1 if not strobe else 0
        assert outputs(part, D=data, S=select, G_n=strobe) == {"Y": wanted, "W": 1 - wanted}


def test_151_counts_its_select_pins_from_a() -> None:
    for pins in combinations("A", "B", "C"):
        chosen = pins["C"] * 4 + pins["B"] * 2 + pins["A"]
        assert bench("151", G_n=0, **{f"D{chosen}": 1}, **pins).read("Y") == 1


@row("74153", "G=H", "G=L")
def test_153_shows_the_chosen_input_of_each_half() -> None:
    part = part_of("153")
    for first, select, strobes in product(range(16), range(4), product((0, 1), repeat=2)):
        second = first * 7 % 16  # every four bits once, and never beside the same
        found = outputs(part, C1=first, C2=second, S=select, G1_n=strobes[0], G2_n=strobes[1])
        assert found["Y1"] == (0 if strobes[0] else first >> select & 1)
        assert found["Y2"] == (0 if strobes[1] else second >> select & 1)


def test_153_counts_its_select_pins_from_a() -> None:
    for pins, half in product(combinations("A", "B"), (1, 2)):
        selector = bench("153", **{f"C{half}_{pins['B'] * 2 + pins['A']}": 1}, **pins)
        assert selector.read(f"Y{half}") == 1
        assert selector.read(f"Y{3 - half}") == 0


@row("74157", "function")
def test_157_shows_one_of_two_words_or_zero() -> None:
    part = part_of("157")
    for a, b, select, strobe in product(range(16), range(16), (0, 1), (0, 1)):
        assert outputs(part, A=a, B=b, S=select, G_n=strobe)["Y"] == (0 if strobe else b if select else a)


@given(st.integers(0, 15), st.integers(0, 15), st.integers(0, 1))
def test_257_shows_one_of_two_words_or_lets_go(a: int, b: int, select: int) -> None:
    """From memory (SN74LS257B), against an integer model."""
    selector = bench("257", A=a, B=b, S=select, G_n=0)
    assert selector.read("Y") == (b if select else a)
    assert selector.set(G_n=1).read("Y") is None


def test_units_name_ports_of_the_same_half() -> None:
    """In one unit the digits in the names of strobe, inputs and outputs agree; shared selects have none."""
    for number in ("139", "153"):
        for unit in part_of(number).units:
            digits = {port.removesuffix("_n")[-1] for _, port in unit.ports if port != "S"}
            assert digits == {unit.name}
