"""Buffers and two-way buffers: every state of their enables, with bytes of all kinds, against the sheets' tables.

The function tables are those of the makers' sheets from memory; the LS243, 540 and 652 figures that were read in a
sheet are checked where they stand.
"""

from __future__ import annotations

from itertools import product

import pytest
from bench import Bench
from hypothesis import given, settings
from hypothesis import strategies as st
from published import LEVELS, bench, entry_of

from latchwork.parts import Confidence

byte = st.integers(0, 255)
BYTES = (0x00, 0xFF, 0x55, 0xA3, 0x1C)


def shows(part: Bench, port: str, value: int | None) -> None:
    assert part.read(port) == value


@pytest.mark.parametrize("number", [1, 2, 3, 4])
def test_126_drives_while_its_enable_is_high(number: int) -> None:
    for enable, level in product(LEVELS, LEVELS):
        buffer = bench("126", **{f"OE{number}": enable, f"A{number}": level})
        shows(buffer, f"Y{number}", level if enable else None)
        assert [buffer.read(f"Y{other}") for other in (1, 2, 3, 4) if other != number] == [None] * 3


@pytest.mark.parametrize(("number", "second", "active", "inverts"), [("240", "G2_n", 0, True), ("241", "G2", 1, False)])
def test_240_and_241_by_halves(number: str, second: str, active: int, inverts: bool) -> None:
    buffer = bench(number)
    for one, two, value in product(LEVELS, LEVELS, BYTES):
        buffer.set(A=value, **{"G1_n": one, second: two})
        shown = value ^ 0xFF if inverts else value
        shows(buffer, "Y1", None if one else shown & 15)
        shows(buffer, "Y2", shown >> 4 if two == active else None)


def test_241_has_the_pins_of_the_244_but_one_polarity() -> None:
    known = {pin.number: pin.name for pin in entry_of("244").pins}
    here = {pin.number: pin.name for pin in entry_of("241").pins}
    assert {at: (known[at], here[at]) for at in known if known[at] != here[at]} == {19: ("G2_n", "G2")}
    assert entry_of("240").pins == entry_of("244").pins


@pytest.mark.parametrize(("number", "inverts"), [("242", True), ("243", False)])
def test_242_and_243_each_way(number: str, inverts: bool) -> None:
    buffer, turn = bench(number), 15 if inverts else 0
    for a, b in product(range(16), repeat=2):
        buffer.set(A=a, B=b)
        for gab, gba in product(LEVELS, repeat=2):
            buffer.set(GAB_n=gab, GBA=gba)
            shows(buffer, "B", None if gab else a ^ turn)
            shows(buffer, "A", b ^ turn if gba else None)


@pytest.mark.parametrize("number", ["365", "366", "367", "368"])
def test_six_buffers_and_their_enables(number: str) -> None:
    buffer, turn = bench(number), 0x3F if number in {"366", "368"} else 0
    for value, one, two in product(range(64), LEVELS, LEVELS):
        buffer.set(A=value, G1_n=one, G2_n=two)
        shown = value ^ turn
        if number in {"365", "366"}:
            shows(buffer, "Y", None if one or two else shown)
        else:
            shows(buffer, "Y1", None if one else shown & 15)
            shows(buffer, "Y2", None if two else shown >> 4)


def test_365_and_367_have_the_same_buffers_in_the_same_places() -> None:
    one, other = entry_of("365"), entry_of("367")
    for letter in "AY":
        places = [
            {pin.name: pin.number for pin in entry.pins}[name]
            for entry in (one, other)
            for name in dict(entry.vectors)[letter]
        ]
        assert places[:6] == places[6:]


def test_540_is_a_541_that_inverts() -> None:
    buffer = bench("540")
    assert entry_of("540").pins == entry_of("541").pins
    for value, one, two in product(BYTES, LEVELS, LEVELS):
        shows(buffer.set(A=value, G1_n=one, G2_n=two), "Y", None if one or two else value ^ 0xFF)


@settings(max_examples=20)
@given(byte, byte)
def test_543_keeps_each_way(first: int, second: int) -> None:
    for start, end in ("AB", "BA"):
        latch, chip, out = (f"{name}{start}{end}_n" for name in ("LE", "CE", "OE"))
        buffer = bench("543", LEAB_n=1, LEBA_n=1, CEAB_n=1, CEBA_n=1, OEAB_n=1, OEBA_n=1)
        buffer.set(**{start: first, latch: 0, chip: 0, out: 0})
        assert (buffer.read(end), buffer.read(start)) == (first, None)
        shows(buffer.set(**{start: second}), end, second)
        buffer.set(**{latch: 1})
        shows(buffer.set(**{start: first}), end, second)
        shows(buffer.set(**{chip: 1}), end, None)
        shows(buffer.set(**{latch: 0}), end, None)
        shows(buffer.set(**{latch: 1}).set(**{chip: 0}), end, second)
        shows(buffer.set(**{out: 1}), end, None)


@pytest.mark.parametrize("number", ["640", "645", "4245"])
def test_direction_and_enable(number: str) -> None:
    buffer, turn = bench(number), 0xFF if number == "640" else 0
    enable = "OE_n" if number == "4245" else "G_n"
    for a, b, off, a_to_b in product(BYTES, BYTES, LEVELS, LEVELS):
        buffer.set(A=a, B=b, DIR=a_to_b, **{enable: off})
        shows(buffer, "B", a ^ turn if a_to_b and not off else None)
        shows(buffer, "A", b ^ turn if not a_to_b and not off else None)


def test_245_is_made_for_low_voltage_too() -> None:
    assert "LVC" in entry_of("245").families
    assert entry_of("4245").name_in("LVC") == "74LVC4245"


def test_623_has_an_enable_for_each_way() -> None:
    buffer = bench("623")
    for a, b, gab, gba in product(BYTES, BYTES, LEVELS, LEVELS):
        buffer.set(A=a, B=b, GAB=gab, GBA_n=gba)
        shows(buffer, "B", a if gab else None)
        shows(buffer, "A", None if gba else b)


@pytest.mark.parametrize("number", ["646", "652"])
@settings(max_examples=20)
@given(then=byte, now=byte)
def test_registers_and_bypass_of_each_way(number: str, then: int, now: int) -> None:
    on = {
        ("646", "A"): {"G_n": 0, "DIR": 1},
        ("646", "B"): {"G_n": 0, "DIR": 0},
        ("652", "A"): {"GAB": 1, "GBA_n": 1},
        ("652", "B"): {"GAB": 0, "GBA_n": 0},
    }
    off = {"G_n": 1} if number == "646" else {"GAB": 0, "GBA_n": 1}
    for start, end in ("AB", "BA"):
        buffer = bench(number, **off).set(**{start: then}).pulse(f"C{start}{end}").set(**{start: now})
        assert (buffer.read("A"), buffer.read("B")) == (None, None)
        buffer.set(**on[number, start])
        assert (buffer.read(end), buffer.read(start)) == (now, None)
        shows(buffer.set(**{f"S{start}{end}": 1}), end, then)
        shows(buffer.pulse(f"C{start}{end}"), end, now)


def test_4050_buffers_six_levels() -> None:
    buffer = bench("4050")
    for value in range(64):
        buffer.set(A=value)
        shows(buffer, "Y", value)
    pins = {pin.number: pin.name for pin in entry_of("4050").pins}
    assert (pins[1], pins[8], pins[16]) == ("VCC", "GND", "NC16")


def test_published_figures_stand_as_read() -> None:
    """Renesas HD74LS243 p.3; ST M54/M74HC540/541 p.6/12; Philips 74HC/HCT540 p.2, 74HCT652 September 1993 p.7."""

    def read(number: str, family: str, quantity: str, start: str) -> list[tuple[float | None, float | None]]:
        rows = [row for row in entry_of(number).figures if (row.family, row.quantity) == (family, quantity)]
        return [(row.typical, row.maximum) for row in rows if row.start == start and row.confidence is Confidence.READ]

    assert read("243", "LS", "delay", "A") == [(12, 18)]
    assert read("540", "HC", "delay", "A") == [(10, 17), (14, 23), (9, None)]
    assert read("540", "HC", "enable", "G1_n") == [(13, 22)]
    assert read("540", "HC", "disable", "G2_n") == [(15, 22)]
    assert read("652", "HCT", "delay", "CAB") == [(23, 39)]
