"""Memories against a dictionary, their modes against the sheets, their pins against the JEDEC outline."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import LEVELS, bench, entry_of

from latchwork.parts import Direction

EEPROMS, RAMS = ("28C16", "28C64", "28C256"), ("6116", "62256")
KILOBYTES = {"28C16": 2, "28C64": 8, "28C256": 32, "6116": 2, "62256": 32}
each = pytest.mark.parametrize("number", [*EEPROMS, *RAMS])
REST = {"CE_n": 1, "OE_n": 1, "WE_n": 1}


@each
def test_size_package_and_keeping_are_right(number: str) -> None:
    entry = entry_of(number)
    (memory,) = entry.behaviour.memories
    assert (memory.name, memory.width, 2**memory.address_width) == ("cells", 8, 1024 * KILOBYTES[number])
    assert memory.keeps == (number in EEPROMS)
    assert entry.width_mil == 600
    assert {pin.direction for pin in entry.pins if pin.name in dict(entry.vectors)["D"]} == {Direction.BOTH}


@each
@pytest.mark.parametrize(("ce", "oe", "we"), list(product(LEVELS, repeat=3)))
def test_modes(number: str, ce: int, oe: int, we: int) -> None:
    """Read, write, let go: the mode tables of the sheets (from memory). An EEPROM with /OE low forbids writing
    (AT28C256, write inhibit)."""
    memory = bench(number, A=5, D=0x3C, **REST)
    memory.memory["cells"][5] = 0xA7
    memory.set(CE_n=ce, OE_n=oe, WE_n=we)
    assert memory.read("D") == (0xA7 if not ce and not oe and we else None)
    writes = not ce and not we and (oe or number in RAMS)
    assert memory.memory["cells"] == {5: 0x3C if writes else 0xA7}


@each
@settings(max_examples=20)
@given(data=st.data())
def test_what_is_written_is_read(number: str, data: st.DataObject) -> None:
    """Random writes and reads against a dictionary."""
    address = st.integers(0, 1024 * KILOBYTES[number] - 1)
    memory, model = bench(number, **REST), {}
    for where, what in data.draw(st.lists(st.tuples(address, st.integers(0, 255)), min_size=1, max_size=8)):
        memory.set(A=where, D=what, CE_n=0).set(WE_n=0).set(WE_n=1)
        model[where] = what
    for where, what in model.items():
        assert memory.set(A=where, D=0, OE_n=0).read("D") == what


@each
def test_each_address_pin_counts(number: str) -> None:
    memory = bench(number, CE_n=0, OE_n=0, WE_n=1)
    pins = dict(entry_of(number).vectors)["A"]
    memory.memory["cells"] = {0: 0xEE} | {1 << place: place for place in range(len(pins))}
    for place, pin in enumerate(pins):
        assert pin == f"A{place}"
        assert memory.set(A=0, **{pin: 1}).read("D") == place


def test_an_address_that_moves_during_a_write_reaches_both_bytes() -> None:
    memory = bench("62256", A=1, D=9, CE_n=0, OE_n=1, WE_n=1).set(WE_n=0).set(A=2).set(WE_n=1)
    assert memory.memory["cells"] == {1: 9, 2: 9}


def names(number: str) -> list[str]:
    return [pin.name for pin in entry_of(number).pins]


def test_24_and_28_pins_are_one_outline() -> None:
    """The JEDEC byte-wide outline (common practice): a 24-pin part sits in the lower 24 holes of a 28-pin socket,
    supply and the pins that grew new meanings apart; 28C64 and 28C256 differ in pins 1 and 26."""
    small, middle, large = names("28C16"), names("28C64"), names("28C256")
    assert names("6116") == small
    assert names("62256") == large
    assert [i + 1 for i in range(28) if middle[i] != large[i]] == [1, 26]
    differing = {small[i]: large[i + 2] for i in range(24) if small[i] != large[i + 2]}
    assert differing == {"WE_n": "A11", "VCC": "A13"}
