"""Register files, small memories and shift registers against lists and integers, over long random sequences.

Tables: 670 Fairchild DM74LS670, 189 National DM74S189, 299 and 323 TI SCHS288A; 170, 194, 195, 198, 219 and 298 from
memory of the makers' sheets. Pins of the 670: ON SN74LS670/D; all other pins from memory.
"""

from __future__ import annotations

import random

import pytest
from bench import Bench
from published import bench, part_of

from latchwork.chips.catalogue import find

STEPS = 1200


@pytest.mark.parametrize("number", ["170", "670"])
def test_a_register_file_reads_one_word_and_writes_another(number: str) -> None:
    part, words, chance = bench(number, GW_n=1), [0, 0, 0, 0], random.Random(number)
    for _ in range(STEPS):
        port = chance.choice(["W", "R", "D", "GW_n", "GR_n"])
        part.set(**{port: chance.getrandbits(len(part.part.ports[port]))})
        write, read, data = (number_on(part, port) for port in ("W", "R", "D"))
        if not part.pins["GW_n"]:
            words[write] = data
        pulled_low = [0 if not words[read] >> bit & 1 and not part.pins["GR_n"] else None for bit in range(4)]
        if number == "170":
            assert [part.read(f"Q{bit}") for bit in (1, 2, 3, 4)] == pulled_low
        else:
            assert part.read("Q") == (None if part.pins["GR_n"] else words[read])
    assert len({*words}) > 1


def number_on(part: Bench, port: str) -> int:
    """What the test has put on a port, counted from its pins."""
    names = [part.part.pins[pin].name for pin in part.part.ports[port]]
    return sum(part.pins[name] << place for place, name in enumerate(names))


def test_pins_of_the_670() -> None:
    """ON SN74LS670/D Rev.6, connection diagram; the enables are called ER and EW there."""
    pins = "D2 D3 D4 RB RA Q4 Q3 GND Q2 Q1 GR_n GW_n WB WA D1 VCC"
    assert [pin.name for pin in part_of("670").pins] == pins.split()


@pytest.mark.parametrize(("number", "end", "flip"), [("189", "Q_n", 15), ("219", "Q", 0)])
def test_sixteen_words(number: str, end: str, flip: int) -> None:
    part, words, chance = bench(number, CS_n=1), [0] * 16, random.Random(number)
    for _ in range(STEPS):
        port = chance.choice(["A", "D", "CS_n", "WE_n"])
        if port == "A" and not part.pins["CS_n"] and not part.pins["WE_n"]:
            continue  # the rule is not to
        part.set(**{port: chance.getrandbits(len(part.part.ports[port]))})
        pins, at = part.pins, number_on(part, "A")
        if not pins["CS_n"] and not pins["WE_n"]:
            words[at] = number_on(part, "D")
        shown = not pins["CS_n"] and pins["WE_n"]
        assert part.read(end) == (words[at] ^ flip if shown else None)
    assert len({*words}) > 4


def shifted(held: list[int], select: int, up: int, down: int, loaded: list[int]) -> list[int]:
    """Modes 0 to 3: hold, towards the last stage, towards the first, load."""
    return [held, [up, *held[:-1]], [*held[1:], down], loaded][select]


@pytest.mark.parametrize(("name", "letters"), [("74LS194", "ABCD"), ("74198", "ABCDEFGH")])
def test_shift_registers_for_both_directions(name: str, letters: str) -> None:
    part, chance = Bench(find(name), CLR_n=1), random.Random(name)
    held, modes = [0] * len(letters), set()
    for _ in range(STEPS):
        select, up, down = chance.randrange(4), chance.randrange(2), chance.randrange(2)
        loaded = [chance.randrange(2) for _ in letters]
        part.set(S1=select >> 1, S0=select & 1, SRSER=up, SLSER=down, **dict(zip(letters, loaded, strict=True)))
        assert [part.read(f"Q{letter}") for letter in letters] == held
        part.pulse("CLK")
        held = shifted(held, select, up, down, loaded)
        if chance.random() < 0.05:
            part.set(CLR_n=0).set(CLR_n=1)
            held = [0] * len(letters)
        modes.add(select)
        assert [part.read(f"Q{letter}") for letter in letters] == held
    assert len(modes) == 4


def test_clear_of_the_194_is_stronger_than_its_clock() -> None:
    part = bench("194", CLR_n=0, S=3, P=15).pulse("CLK")
    assert part.read("Q") == 0
    assert part.set(CLR_n=1).pulse("CLK").read("Q") == 15


def test_the_195_shifts_a_j_and_k_input() -> None:
    part, held, chance = bench("195", CLR_n=1), [0, 0, 0, 0], random.Random("195")
    for _ in range(STEPS):
        j, k_n, shift = (chance.randrange(2) for _ in range(3))
        loaded = [chance.randrange(2) for _ in range(4)]
        part.set(J=j, K_n=k_n, SH_LD_n=shift, **dict(zip("ABCD", loaded, strict=True)))
        part.pulse("CLK")
        first = {(0, 0): 0, (1, 1): 1, (0, 1): held[0], (1, 0): 1 - held[0]}[j, k_n]
        held = [first, *held[:3]] if shift else loaded
        assert [part.read(f"Q{letter}") for letter in "ABCD"] == held
        assert part.read("QD_n") == 1 - held[3]
    assert part.set(CLR_n=0).read("Q") == 0


@pytest.mark.parametrize("number", ["299", "323"])
def test_universal_shift_registers(number: str) -> None:
    part, chance, held, clock = bench(number, CLR_n=1), random.Random(number), [0] * 8, 0
    for _ in range(2 * STEPS):
        port = chance.choice(["S", "G1_n", "G2_n", "SRSER", "SLSER", "P", "CLK", "CLK", "CLR_n"])
        value = int(chance.random() < 0.8) if port == "CLR_n" else chance.getrandbits(len(part.part.ports[port]))
        part.set(**{port: value})
        pins, select = part.pins, number_on(part, "S")
        loaded = [pins[letter] for letter in "ABCDEFGH"]
        if pins["CLK"] > clock:
            held = shifted(held, select, pins["SRSER"], pins["SLSER"], loaded)
            held = held if pins["CLR_n"] else [0] * 8
        if number == "299" and not pins["CLR_n"]:
            held = [0] * 8
        clock = pins["CLK"]
        off = pins["G1_n"] or pins["G2_n"] or select == 3
        assert [part.read(letter) for letter in "ABCDEFGH"] == ([None] * 8 if off else held)
        assert (part.read("QA_serial"), part.read("QH_serial")) == (held[0], held[7])


def test_the_298_takes_one_of_two_words_at_the_falling_edge() -> None:
    part, held, clock, chance = bench("298"), 0, 0, random.Random("298")
    for _ in range(STEPS):
        port = chance.choice(["word1", "word2", "WS", "CLK"])
        part.set(**{port: chance.getrandbits(len(part.part.ports[port]))})
        if part.pins["CLK"] < clock:
            chosen = "2" if part.pins["WS"] else "1"
            held = sum(part.pins[f"{letter}{chosen}"] << place for place, letter in enumerate("ABCD"))
        clock = part.pins["CLK"]
        assert part.read("Q") == held
