"""Gates, registers, latches, buffers and shift registers against published pinouts and function tables.

The rows stand in tests/data/gates_registers_buffers.json, each with its source; where that says "memory" the
row was recalled. Each row that is a sentence has one test here, and a test sees to it that none is left out.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from itertools import product
from pathlib import Path
from types import ModuleType

import pytest
from bench import Bench

from latchwork.chips import catalogue
from latchwork.chips.catalogue import entries_of, find
from latchwork.chips.pins import pin_name
from latchwork.parts import Entry, Floating

ROWS = json.loads((Path(__file__).parents[1] / "data" / "gates_registers_buffers.json").read_text(encoding="utf-8"))
PINOUTS = [row for row in ROWS if row["quantity"] == "DIP pinout"]
TABLES = [row for row in ROWS if row["quantity"] != "DIP pinout"]
GIVEN_NAMES = {"SH//LD": "SH_LD_n", "QH'": "QH_serial"}

checked: set[tuple[str, str]] = set()

Test = Callable[[], None]


def row(item: str, quantity: str) -> Callable[[Test], Test]:
    """Marks the test of one row."""
    checked.add((item, quantity))
    return lambda test: test


def entry_of(number: str) -> Entry:
    return next(entry for entry in catalogue.entries() if entry.number == number)


def bench(number: str, **levels: int) -> Bench:
    return Bench(entry_of(number).in_family("HC", Floating.UNKNOWN), **levels)


@pytest.mark.parametrize("pinout", PINOUTS, ids=lambda pinout: pinout["item"])
def test_pins_are_those_of_the_sheet(pinout: dict[str, dict[str, str]]) -> None:
    pins = entry_of(str(pinout["item"]).removeprefix("74")).pins
    assert {str(pin.number): pin.sheet for pin in pins} == pinout["value"]
    for pin in pins:
        assert pin.name == GIVEN_NAMES.get(pin.sheet, pin_name(pin.sheet))


def test_every_row_has_its_test() -> None:
    assert {(row["item"], row["quantity"]) for row in TABLES} == checked


GATES = [entry for entry in catalogue.entries() if entry.function]
MEANING = {
    "and": all,
    "nand": lambda levels: not all(levels),
    "or": any,
    "nor": lambda levels: not any(levels),
    "xor": lambda levels: sum(levels) % 2 == 1,
    "inverter": lambda levels: not levels[0],
    "schmitt nand": lambda levels: not all(levels),
    "schmitt inverter": lambda levels: not levels[0],
}


@pytest.mark.parametrize("entry", GATES, ids=lambda entry: entry.number)
def test_every_gate_of_a_package_does_its_function(entry: Entry) -> None:
    """All input combinations; what the names of gates mean is common knowledge."""
    part = Bench(entry.in_family("HC", Floating.UNKNOWN))
    for unit in entry.units:
        *inputs, output = (port for _, port in unit.ports)
        for levels in product((0, 1), repeat=entry.inputs):
            part.set(**dict(zip(inputs, levels, strict=True)))
            assert part.read(output) == int(MEANING[entry.function](levels))


GATE_MODULES = [module for module in catalogue.modules() if any(e.function for e in entries_of(module))]


@pytest.mark.parametrize("module", GATE_MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_the_printed_table_of_a_gate_is_true_and_whole(module: ModuleType) -> None:
    """The table in the file's own documentation against the behaviour."""
    (entry,) = entries_of(module)
    if entry.inputs > 4:
        pytest.skip("the table of a gate with many inputs is in words")
    part = Bench(entry.in_family("HC", Floating.UNKNOWN))
    seen = set()
    for cells in printed_table(module.__doc__ or ""):
        for levels in product(*({"L": (0,), "H": (1,), "x": (0, 1)}[cell] for cell in cells[:-1])):
            *inputs, output = (port for _, port in entry.units[0].ports)
            part.set(**dict(zip(inputs, levels, strict=True)))
            assert part.read(output) == "LH".index(cells[-1])
            seen.add(levels)
    assert len(seen) == 2**entry.inputs


def printed_table(documentation: str) -> Iterator[list[str]]:
    _, _, after = documentation.partition("Function table")
    lines = after.partition("Timing")[0].splitlines()
    cells = [line.split() for line in lines if line.strip() and not re.fullmatch(r"[ =]+", line)]
    yield from cells[1:]


def test_the_flip_flop_of_the_74() -> None:
    """From memory of the SN74LS74A function table."""
    part = bench("74", PRE1_n=1, CLR1_n=1, PRE2_n=1, CLR2_n=1)
    both = lambda: (part.read("Q1"), part.read("Q1_n"))  # noqa: E731
    assert both() == (0, 1)
    assert part.set(D1=1).read("Q1") == 0
    part.set(CLK1=1)
    assert both() == (1, 0)
    part.set(D1=0)
    assert both() == (1, 0)
    part.set(CLK1=0)
    assert both() == (1, 0)
    part.set(CLR1_n=0)
    assert both() == (0, 1)
    part.set(D1=1).pulse("CLK1")
    assert both() == (0, 1)
    part.set(PRE1_n=0)
    assert both() == (1, 1)
    part.set(CLR1_n=1)
    assert both() == (1, 0)
    part.set(PRE1_n=1, D1=0)
    assert both() == (1, 0)
    assert (part.read("Q2"), part.read("Q2_n")) == (0, 1)
    part.set(D2=1).pulse("CLK2")
    assert (part.read("Q2"), part.read("Q1")) == (1, 1)


def test_a_toggling_74_divides_by_two() -> None:
    """/Q on D halves the clock: common practice."""
    part = bench("74", PRE1_n=1, CLR1_n=1)
    levels = []
    for _ in range(6):
        part.set(D1=part.read("Q1_n") or 0).pulse("CLK1")
        levels.append(part.read("Q1"))
    assert levels == [1, 0, 1, 0, 1, 0]


@pytest.mark.parametrize(("number", "width"), [("174", 6), ("175", 4), ("273", 8)])
def test_registers_with_clear(number: str, width: int) -> None:
    """From memory of the sheets of 174 and 175; 273 as its row says."""
    part, every = bench(number, CLR_n=1), (1 << width) - 1
    for value in range(every + 1):
        assert part.set(D=value).set(CLK=1).read("Q") == value
        assert part.set(D=~value & every).read("Q") == value
        assert part.set(CLK=0).read("Q") == value
    assert part.set(CLR_n=0).read("Q") == 0
    assert part.set(D=every).pulse("CLK").read("Q") == 0
    assert part.set(CLR_n=1).read("Q") == 0


def test_the_175_shows_the_inverse_too() -> None:
    part = bench("175", CLR_n=1)
    for value in range(16):
        part.set(D=value).pulse("CLK")
        assert (part.read("Q"), part.read("Q_n")) == (value, 15 - value)


@row("74273", "function")
def test_273() -> None:
    part = bench("273", CLR_n=1, D=0xA5).pulse("CLK")
    assert part.read("Q") == 0xA5
    assert part.set(CLR_n=0).read("Q") == 0
    assert part.set(CLR_n=1, D=0x3C).set(CLK=1).read("Q") == 0x3C


@row("74377", "G=H rising CLK")
def test_377_holds_while_not_enabled() -> None:
    assert bench("377", D=0x5A).pulse("CLK").set(G_n=1, D=0xFF).pulse("CLK").read("Q") == 0x5A


@row("74377", "G=L rising CLK")
def test_377_takes_while_enabled() -> None:
    part = bench("377")
    assert [part.set(D=value).pulse("CLK").read("Q") for value in range(256)] == list(range(256))


@row("74377", "CLK L or H")
def test_377_holds_between_edges() -> None:
    part = bench("377", D=1).set(CLK=1)
    assert part.set(D=2).read("Q") == 1
    assert part.set(G_n=1).set(G_n=0).read("Q") == 1
    assert part.set(CLK=0).set(D=3).read("Q") == 1


@row("74173", "MR=H")
def test_173_clears_at_once() -> None:
    part = bench("173", D=9).pulse("CLK")
    assert part.set(CLR=1).read("Q") == 0
    assert part.pulse("CLK").read("Q") == 0


@row("74173", "E1=E2=L rising CP")
def test_173_takes() -> None:
    part = bench("173")
    assert [part.set(D=value).pulse("CLK").read("Q") for value in range(16)] == list(range(16))


@row("74173", "E1 or E2 = H")
def test_173_holds() -> None:
    part = bench("173", D=6).pulse("CLK").set(D=9)
    for first, second in ((0, 1), (1, 0), (1, 1)):
        assert part.set(G1_n=first, G2_n=second).pulse("CLK").read("Q") == 6


@row("74173", "OE1=OE2=L")
def test_173_drives() -> None:
    assert bench("173", D=6, M=0, N=0).pulse("CLK").read("Q") == 6


@row("74173", "OE1 or OE2 = H")
def test_173_is_off_and_works_on() -> None:
    part = bench("173", D=6).pulse("CLK")
    for first, second in ((0, 1), (1, 0), (1, 1)):
        assert part.set(M=first, N=second).read("Q") is None
    assert part.set(D=5).pulse("CLK").set(M=0, N=0).read("Q") == 5


@row("74574/374", "function")
def test_374_and_574() -> None:
    for number, enable in (("374", "OC_n"), ("574", "OE_n")):
        part = bench(number, D=0x96).set(CLK=1)
        assert part.set(D=0x11).read("Q") == 0x96
        assert part.set(CLK=0).read("Q") == 0x96
        assert part.set(**{enable: 1}).read("Q") is None
        assert part.set(D=0x22).pulse("CLK").set(**{enable: 0}).read("Q") == 0x22


@row("74373", "function")
def test_373() -> None:
    part = bench("373", LE=1)
    assert [part.set(D=value).read("Q") for value in range(256)] == list(range(256))
    assert part.set(LE=0).set(D=0).read("Q") == 255
    assert part.set(OC_n=1).read("Q") is None
    assert part.set(LE=1, D=7).set(LE=0).set(D=8, OC_n=0).read("Q") == 7


def test_each_buffer_of_the_125() -> None:
    """From memory of the SN74LS125A function table."""
    for number in range(1, 5):
        part = bench("125", **{f"OE{other}_n": int(other != number) for other in range(1, 5)})
        for level in (0, 1):
            part.set(**{f"A{number}": level})
            assert [part.read(f"Y{each}") for each in range(1, 5)] == [
                level if each == number else None for each in range(1, 5)
            ]


def test_the_halves_of_the_244() -> None:
    """From memory of the SN74LS244 function table."""
    part = bench("244", A1=0b1010, A2=0b0110)
    assert (part.read("Y1"), part.read("Y2"), part.read("Y")) == (0b1010, 0b0110, 0b0110_1010)
    assert [part.read(f"Y1_{bit}") for bit in range(1, 5)] == [0, 1, 0, 1]
    part.set(G1_n=1)
    assert (part.read("Y1"), part.read("Y2")) == (None, 0b0110)
    part.set(G1_n=0, G2_n=1, A=0x3C)
    assert (part.read("Y1"), part.read("Y2")) == (0xC, None)


@row("74245", "G=L DIR=L")
def test_245_shows_b_on_a() -> None:
    part = bench("245", B=0x5A)
    assert (part.read("A"), part.read("B")) == (0x5A, None)


@row("74245", "G=L DIR=H")
def test_245_shows_a_on_b() -> None:
    part = bench("245", A=0x5A, DIR=1)
    assert (part.read("A"), part.read("B")) == (None, 0x5A)


@row("74245", "G=H")
def test_245_is_off() -> None:
    for direction in (0, 1):
        part = bench("245", A=1, B=2, DIR=direction, G_n=1)
        assert (part.read("A"), part.read("B")) == (None, None)


def test_the_541_needs_both_enables() -> None:
    """From memory of the SN74LS541 function table."""
    part = bench("541")
    assert [part.set(A=value).read("Y") for value in range(256)] == list(range(256))
    for first, second in ((0, 1), (1, 0), (1, 1)):
        assert part.set(G1_n=first, G2_n=second).read("Y") is None


def shifted_in(part: Bench, bits: str) -> Bench:
    for bit in bits:
        part.set(SER=int(bit)).pulse("SRCLK")
    return part


@row("74595", "MR L")
def test_595_clears_its_stages_only() -> None:
    part = shifted_in(bench("595", SRCLR_n=1), "11111111").pulse("RCLK")
    assert (part.read("Q"), part.read("QH_serial")) == (0xFF, 1)
    part.set(SRCLR_n=0)
    assert (part.read("Q"), part.read("QH_serial")) == (0xFF, 0)


@row("74595", "SHCP rise, MR H")
def test_595_shifts_towards_the_last_stage() -> None:
    part = shifted_in(bench("595", SRCLR_n=1), "1")
    seen = []
    for _ in range(9):
        seen.append((part.pulse("RCLK").read("Q"), part.read("QH_serial")))
        shifted_in(part, "0")
    assert seen == [(1 << place, int(place == 7)) for place in range(8)] + [(0, 0)]


@row("74595", "STCP rise")
def test_595_stores() -> None:
    part = shifted_in(bench("595", SRCLR_n=1), "10110001")
    assert part.read("Q") == 0
    assert part.set(RCLK=1).read("Q") == 0b10110001
    assert shifted_in(part, "1111").read("Q") == 0b10110001


@row("74595", "both rise together")
def test_595_is_one_clock_behind_with_joined_clocks() -> None:
    part = bench("595", SRCLR_n=1, SER=1)
    seen = []
    for _ in range(4):
        seen.append(part.set(SRCLK=1, RCLK=1).read("Q"))
        part.set(SRCLK=0, RCLK=0)
    assert seen == [0b0, 0b1, 0b11, 0b111]


@row("74595", "OE H")
def test_595_is_off() -> None:
    part = shifted_in(bench("595", SRCLR_n=1), "11111111").pulse("RCLK").set(OE_n=1)
    assert (part.read("Q"), part.read("QH_serial")) == (None, 1)


@row("74595", "STCP rise with MR L")
def test_595_stores_zeros_while_cleared() -> None:
    part = shifted_in(bench("595", SRCLR_n=1), "11111111").pulse("RCLK").set(SRCLR_n=0)
    assert part.pulse("RCLK").read("Q") == 0


def test_the_165_sends_what_it_loaded_last_place_first() -> None:
    """From memory of the SN74LS165A function table."""
    part = bench("165", P=0b10110010, SER=1)
    assert (part.read("QH"), part.read("QH_n")) == (1, 0)
    part.set(SH_LD_n=1, P=0)
    sent = []
    for _ in range(10):
        sent.append(part.read("QH"))
        part.pulse("CLK")
    assert sent == [1, 0, 1, 1, 0, 0, 1, 0, 1, 1]


def test_the_165_loads_whatever_the_clock_does() -> None:
    part = bench("165", CLK=1, SH_LD_n=0)
    assert part.set(H=1).read("QH") == 1
    assert part.set(H=0).pulse("CLK").read("QH") == 0


def test_the_clock_inhibit_of_the_165_is_a_second_clock() -> None:
    """Clock and inhibit are joined by an OR (sheet, from memory): inhibit rising while the clock is low counts."""
    part = bench("165", P=0b01000000).set(SH_LD_n=1)
    assert part.set(CLKINH=1).read("QH") == 1
    assert part.set(P=0).pulse("CLK", times=3).read("QH") == 1
    part.set(CLK=1).set(CLKINH=0).set(CLK=0)
    assert part.read("QH") == 1


def test_standard_names_lead_to_the_right_part() -> None:
    assert find("74165").title.startswith("eight-bit shift register, parallel in")
    assert find("74HC595").vectors == (("Q", ("QA", "QB", "QC", "QD", "QE", "QF", "QG", "QH")),)
