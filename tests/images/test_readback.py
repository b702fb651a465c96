"""Reading a chip back. The faults are made here, by building the reading address by address as crossed or stuck
wires would give it, independently of the search."""

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rom_machine import model

from latchwork.tools.images.crossed import explain
from latchwork.tools.images.readback import verify

MODEL = model()
CONTENT = MODEL.contents[MODEL.netlist.chip_named["U1"]]
LINES = 11


def reading(address: Callable[[int], int] = lambda a: a, data: Callable[[int], int] = lambda d: d) -> bytes:
    return bytes(data(CONTENT[address(at)]) for at in range(len(CONTENT)))


def swapped(value: int, one: int, other: int) -> int:
    differ = (value >> one ^ value >> other) & 1
    return value ^ (differ << one | differ << other)


def told(tmp_path: Path, content: bytes, name: str = "back.bin", chip: str = "") -> object:
    (tmp_path / name).write_bytes(content)
    return verify(MODEL, tmp_path / name, chip)


def test_a_good_chip(tmp_path: Path) -> None:
    found = told(tmp_path, CONTENT)
    assert found.good
    assert found.reference == "U1"
    assert found.first == found.explanation == ()


CASES = [
    (reading(lambda a: swapped(a, 3, 5)), ("address lines A3 (pc[3]) and A5 (pc[5]) are swapped",)),
    (reading(data=lambda d: swapped(d, 0, 7)), ("data lines D0 and D7 are swapped",)),
    (
        reading(lambda a: swapped(a, 0, 10), lambda d: swapped(d, 1, 2)),
        ("address lines A0 (pc[0]) and A10 (pc[10]) are swapped", "data lines D1 and D2 are swapped"),
    ),
    (
        reading(lambda a: swapped(swapped(a, 0, 1), 7, 9)),
        ("address lines A0 (pc[0]) and A1 (pc[1]) are swapped", "address lines A7 (pc[7]) and A9 (pc[9]) are swapped"),
    ),
    (
        reading(lambda a: swapped(swapped(a, 0, 1), 1, 2)),
        ("address lines are crossed in a ring: A0 (pc[0]), A2 (pc[2]), A1 (pc[1]), A0 (pc[0])",),
    ),
    (reading(data=lambda d: d | 0x08), ("data line D3 stays 1",)),
    (reading(data=lambda d: d & 0x7E), ("data line D0 stays 0", "data line D7 stays 0")),
    (reading(lambda a: a | 0x40), ("address line A6 (pc[6]) stays 1",)),
    (reading(lambda a: a & ~1), ("address line A0 (pc[0]) stays 0",)),
]


@pytest.mark.parametrize(("content", "sentences"), CASES)
def test_wires_that_explain_all(tmp_path: Path, content: bytes, sentences: tuple[str, ...]) -> None:
    found = told(tmp_path, content, chip="U1")
    assert not found.good
    assert found.explanation == sentences
    assert found.explained == found.differing


def test_the_ring_is_what_the_sentence_says() -> None:
    # The reading has the byte of chip address b at address a, where the reader's line i is the chip's line order[i].
    content = reading(lambda a: swapped(swapped(a, 0, 1), 1, 2))
    found = explain(CONTENT, content, 8)
    assert found is not None
    for at in range(64):
        crossed = sum((at >> line & 1) << to for line, to in enumerate(found.address))
        assert content[at] == CONTENT[crossed]


@settings(max_examples=25, deadline=None)
@given(st.permutations(range(LINES)))
def test_any_crossing_of_address_lines_is_found(order: list[int]) -> None:
    content = reading(lambda a: sum((a >> line & 1) << to for line, to in enumerate(order)))
    found = explain(CONTENT, content, 8)
    assert found is not None
    assert found.remaining == 0
    assert found.address == tuple(order) or (not found.address and content == CONTENT)


def test_a_swap_beside_bad_bytes_is_named_with_what_remains(tmp_path: Path) -> None:
    content = bytearray(reading(lambda a: swapped(a, 2, 4)))
    for at in (100, 200, 300):
        content[at] ^= 0x10
    found = told(tmp_path, bytes(content), chip="U1")
    assert found.explanation == ("address lines A2 (pc[2]) and A4 (pc[4]) are swapped",)
    assert found.differing - found.explained in (1, 2, 3)


def test_a_few_bad_bytes_are_listed_and_not_explained_away(tmp_path: Path) -> None:
    content = bytearray(CONTENT)
    for at in (7, 1000):
        content[at] ^= 0xA5
    found = told(tmp_path, bytes(content))
    assert found.differing == 2
    assert [(each.address, each.should, each.found) for each in found.first] == [
        (at, CONTENT[at], CONTENT[at] ^ 0xA5) for at in (7, 1000)
    ]
    assert found.explanation == ()


def test_random_bytes_have_no_explanation() -> None:
    assert explain(CONTENT, random.Random(5).randbytes(len(CONTENT)), 8) is None


def test_the_chip_is_known_by_file_name_and_the_better_match_is_named(tmp_path: Path) -> None:
    found = told(tmp_path, CONTENT, "program_board-U2-28C16.bin")
    assert found.reference == "U2"
    assert not found.good
    assert (found.best[0].reference, found.best[0].differing) == ("U1", 0)
