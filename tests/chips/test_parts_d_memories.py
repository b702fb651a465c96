"""ROMs, RAMs, the RAM with two ports and the FIFO against dictionaries and queues.

Mode tables: AS6C4008 by Alliance Memory (August 2009 v1.4 p.3), the FIFO's flags by the IDT7200/7201A/7202A sheet
(p.5.03-6), the rest from memory. Pins by the JEDEC byte-wide outlines (common practice).
"""

from __future__ import annotations

from collections import deque
from itertools import product

import pytest
from bench import Bench
from hypothesis import given, settings
from hypothesis import strategies as st
from published import LEVELS, bench, entry_of

from latchwork.netlist.queries import memory_pins
from latchwork.parts import Confidence, Floating

READ_ONLY = {"27C64": 8, "27C256": 32, "27C512": 64, "29F010": 128, "29F040": 512}
READ_ONLY |= {"SST39SF010A": 128, "SST39SF020A": 256, "SST39SF040": 512}
RAMS = {"6264": 8, "628128": 128, "AS6C1008": 128, "AS6C4008": 512}
SIZES = READ_ONLY | RAMS | {"28C010": 128}
each_byte_wide = pytest.mark.parametrize("number", SIZES)


@each_byte_wide
def test_size_package_and_keeping_are_right(number: str) -> None:
    entry = entry_of(number)
    (memory,) = entry.behaviour.memories
    assert (memory.width, 2**memory.address_width) == (8, 1024 * SIZES[number])
    assert memory.keeps == (number not in RAMS)
    assert bool(memory.writes) == (number not in READ_ONLY)
    assert entry.width_mil == 600
    assert len(entry.pins) == (28 if SIZES[number] <= 64 else 32)


@each_byte_wide
def test_analysis_finds_address_and_data_pins(number: str) -> None:
    pins = memory_pins(entry_of(number).in_family("", Floating.UNKNOWN))
    assert pins is not None
    assert len(pins.data) == 8
    assert 2 ** len(pins.address) == 1024 * SIZES[number]


def selects(number: str) -> dict[str, int]:
    """The levels that select the part, beside /CE low."""
    names = {pin.name for pin in entry_of(number).pins}
    return {name: 1 for name in ("CE2", "PGM_n", "WE_n") if name in names}


@each_byte_wide
def test_each_address_pin_counts(number: str) -> None:
    memory = bench(number, **selects(number))
    pins = dict(entry_of(number).vectors)["A"]
    memory.memory["cells"] = {0: 0xEE} | {1 << place: place for place in range(len(pins))}
    for place, pin in enumerate(pins):
        assert pin == f"A{place}"
        assert memory.set(A=0, **{pin: 1}).read("D") == place


@pytest.mark.parametrize("number", READ_ONLY)
def test_what_is_only_read_shows_its_byte_while_selected(number: str) -> None:
    """Reading asks for /WE high (flash) or /PGM high (27C64); nothing that is done at the pins changes a cell."""
    strobes = [name for name in selects(number) if name in {"PGM_n", "WE_n"}]
    for levels in product(LEVELS, repeat=2 + len(strobes)):
        memory = bench(number, A=5, CE_n=1, OE_n=1)
        memory.memory["cells"][5] = 0xA7
        memory.set(**dict(zip(("CE_n", "OE_n", *strobes), levels, strict=True)))
        assert memory.read("D") == (0xA7 if levels[:2] == (0, 0) and all(levels[2:]) else None)
        assert memory.memory["cells"] == {5: 0xA7}


@pytest.mark.parametrize("number", [*RAMS, "28C010"])
def test_modes_of_what_is_written(number: str) -> None:
    has_second = "CE2" in {pin.name for pin in entry_of(number).pins}
    for ce, oe, we, ce2 in product(LEVELS, LEVELS, LEVELS, LEVELS if has_second else (1,)):
        memory = bench(number, A=5, D=0x3C, CE_n=1, OE_n=1, WE_n=1)
        memory.memory["cells"][5] = 0xA7
        memory.set(CE_n=ce, OE_n=oe, WE_n=we, **({"CE2": ce2} if has_second else {}))
        selected = not ce and ce2
        assert memory.read("D") == (0xA7 if selected and not oe and we else None)
        writes = selected and not we and (oe or number in RAMS)
        assert memory.memory["cells"] == {5: 0x3C if writes else 0xA7}


@settings(max_examples=30)
@given(st.lists(st.tuples(st.integers(0, 1023), st.integers(0, 15)), min_size=1, max_size=10))
def test_2114_keeps_four_bits(writes: list[tuple[int, int]]) -> None:
    memory, model = bench("2114", CS_n=1, WE_n=1), {}
    for where, what in writes:
        memory.set(A=where, D=what, CS_n=0).set(WE_n=0)
        assert memory.read("D") is None
        memory.set(WE_n=1)
        model[where] = what
    for where, what in model.items():
        assert memory.set(A=where, D=0).read("D") == what
    assert memory.set(CS_n=1).read("D") is None


def names(number: str) -> list[str]:
    return [pin.name for pin in entry_of(number).pins]


def differing(one: str, other: str) -> list[int]:
    return [place for place, (a, b) in enumerate(zip(names(one), names(other), strict=True), start=1) if a != b]


def test_the_outlines_are_those_of_jedec() -> None:
    """Pins that differ between neighbours of a socket (common practice)."""
    assert differing("27C256", "28C256") == [1, 27]
    assert differing("27C256", "27C512") == [1]
    assert differing("27C64", "27C256") == [1 + 25, 27]
    assert differing("6264", "62256") == [1, 26]
    assert differing("29F010", "SST39SF010A") == []
    assert differing("29F010", "28C010") == []
    assert differing("29F010", "29F040") == [1, 30]
    assert differing("SST39SF010A", "SST39SF020A") == [30]
    assert differing("628128", "AS6C1008") == []
    assert differing("628128", "AS6C4008") == [1, 30]


def test_published_pins_and_figures_stand_as_read() -> None:
    """AS6C4008: Alliance Memory, August 2009 v1.4 p.2, 3; 27C256: Atmel AT27C256R p.3-128."""
    alliance = "A18 A16 A14 A12 A7 A6 A5 A4 A3 A2 A1 A0 D0 D1 D2 GND D3 D4 D5 D6 D7 CE_n A10 OE_n A11 A9 A8 A13 WE_n"
    assert names("AS6C4008") == [*alliance.split(), "A17", "A15", "VCC"]
    rows = {(row.quantity, row.start): row for row in entry_of("27C256").figures}
    assert rows["access", "A"].maximum == 120
    assert rows["enable", "OE_n"].maximum == 35
    assert {row.confidence for row in rows.values()} == {Confidence.READ}


# The RAM with two ports.

sides = st.sampled_from("LR")


def at_rest() -> Bench:
    return bench("7132", CEL_n=1, CER_n=1, OEL_n=1, OER_n=1, RWL=1, RWR=1)


@settings(max_examples=30)
@given(st.lists(st.tuples(sides, st.integers(0, 2047), st.integers(0, 255)), min_size=1, max_size=8), sides)
def test_7132_is_one_memory_from_both_sides(writes: list[tuple[str, int, int]], reader: str) -> None:
    memory, model = at_rest(), {}
    for side, where, what in writes:
        memory.set(**{f"A{side}": where, f"D{side}": what, f"CE{side}_n": 0}).set(**{f"RW{side}": 0})
        memory.set(**{f"RW{side}": 1}).set(**{f"CE{side}_n": 1})
        model[where] = what
    memory.set(**{f"CE{reader}_n": 0, f"OE{reader}_n": 0})
    for where, what in model.items():
        assert memory.set(**{f"A{reader}": where}).read(f"D{reader}") == what
        assert memory.read("DL" if reader == "R" else "DR") is None


@pytest.mark.parametrize(("first", "second"), ["LR", "RL"])
def test_7132_holds_up_who_comes_second(first: str, second: str) -> None:
    """Arbitration by /CE: IDT7132SA/LA p.13; while /BUSY is low data is not written (its table I, note 2)."""
    memory = at_rest().set(AL=9, AR=9, DL=0x11, DR=0x22)
    memory.set(**{f"CE{first}_n": 0}).set(**{f"CE{second}_n": 0})
    assert memory.read(f"BUSY{first}_n") is None, "let go"
    assert memory.read(f"BUSY{second}_n") == 0
    memory.set(**{f"RW{second}": 0})
    assert 9 not in memory.memory["cells"]
    memory.set(**{f"CE{first}_n": 1})
    assert memory.read(f"BUSY{second}_n") is None
    assert memory.memory["cells"][9] == (0x22 if second == "R" else 0x11)


def test_7132_lets_both_work_at_different_addresses() -> None:
    memory = at_rest().set(AL=1, AR=2, DL=0x11, DR=0x22, CEL_n=0, CER_n=0, RWL=0, RWR=0)
    assert (memory.read("BUSYL_n"), memory.read("BUSYR_n")) == (None, None)
    assert memory.memory["cells"] == {1: 0x11, 2: 0x22}


# The FIFO.


def empty_queue() -> Bench:
    return bench("7202", W_n=1, R_n=1, RT_n=1, RS_n=1).set(RS_n=0).set(RS_n=1)


def write(fifo: Bench, word: int) -> None:
    fifo.set(D=word).set(W_n=0).set(W_n=1)


def flags(fifo: Bench) -> tuple[int | None, ...]:
    return tuple(fifo.read(flag) for flag in ("EF_n", "HF_n", "FF_n"))


def expected_flags(held: int) -> tuple[int, ...]:
    return (int(held > 0), int(held <= 512), int(held < 1024))


@settings(max_examples=40)
@given(st.lists(st.one_of(st.integers(0, 511), st.none()), max_size=30), st.sampled_from([0, 1000, 2047]))
def test_7202_is_a_queue(steps: list[int | None], start: int) -> None:
    """Writes (a word) and reads (none) in any order, also across the ends of the counters."""
    fifo, model = empty_queue(), deque[int]()
    fifo.state |= {"write_at": start, "read_at": start}
    fifo.settle()
    for step in steps:
        if step is not None:
            write(fifo, step)
            model.append(step)
        else:
            shown = fifo.set(R_n=0).read("Q")
            assert shown == (model.popleft() if model else None)
            fifo.set(R_n=1)
        assert fifo.read("Q") is None
        assert flags(fifo) == expected_flags(len(model))


@pytest.mark.parametrize("held", [0, 1, 511, 512, 513, 1023, 1024])
def test_7202_flags_move_with_the_strobes(held: int) -> None:
    """The half-full and full flags fall with /W, the empty flag with /R; all rise when the strobe ends."""
    fifo = empty_queue()
    fifo.state |= {"write_at": held, "read_at": 0}
    fifo.settle()
    assert flags(fifo) == expected_flags(held)
    after = min(held + 1, 1024)
    fifo.set(W_n=0)
    assert flags(fifo)[1:] == expected_flags(after)[1:]
    assert flags(fifo)[0] == expected_flags(held)[0]
    fifo.set(W_n=1)
    assert flags(fifo) == expected_flags(after)
    fifo.set(R_n=0)
    assert flags(fifo)[0] == expected_flags(after - 1)[0]
    assert flags(fifo)[1:] == expected_flags(after)[1:]
    assert flags(fifo.set(R_n=1)) == expected_flags(after - 1)


def test_7202_refuses_when_full_and_goes_on_after_a_read() -> None:
    fifo = empty_queue()
    for word in range(1024):
        fifo.memory["cells"][word] = word % 512
    fifo.state |= {"write_at": 1024, "read_at": 0}
    fifo.settle()
    write(fifo, 7)
    assert fifo.state["write_at"] == 1024
    assert fifo.memory["cells"][0] == 0
    fifo.set(D=7, W_n=0).set(R_n=0).set(R_n=1)
    assert fifo.set(W_n=1).memory["cells"][0] == 7, "a write that waited for the read is done"
    assert flags(fifo) == expected_flags(1024)


def test_7202_reads_again_after_a_retransmit_and_nothing_after_a_reset() -> None:
    fifo = empty_queue()
    for word in (5, 6):
        write(fifo, word)
    fifo.set(R_n=0).set(R_n=1).set(R_n=0).set(R_n=1)
    assert flags(fifo)[0] == 0
    fifo.set(RT_n=0).set(RT_n=1)
    assert fifo.set(R_n=0).read("Q") == 5
    fifo.set(R_n=1).set(RS_n=0).set(RS_n=1)
    assert flags(fifo) == expected_flags(0)
    assert fifo.set(R_n=0).read("Q") is None


def test_7202_in_a_chain_keeps_its_half_full_flag_high() -> None:
    fifo = empty_queue().set(XI_n=1)
    fifo.state |= {"write_at": 600, "read_at": 0}
    fifo.settle()
    assert (fifo.read("HF_n"), fifo.set(XI_n=0).read("HF_n")) == (1, 0)
