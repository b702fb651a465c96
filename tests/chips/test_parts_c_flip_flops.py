"""JK flip-flops, latches and registers with enables against plain models, over long walks of single pin changes.

The tables are those of the makers' sheets from memory, but for 573 (as 373: Motorola SN74LS373), 259 (TI SCHS173D)
and 575 (TI SDAS165B); the models below are written from them and know nothing of expressions.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest
from bench import Bench
from building import Builder
from published import bench

from latchwork.chips.catalogue import find
from latchwork.engines.oracle import Oracle
from latchwork.parts import Direction

STEPS = 1500


def walk(part: Bench, seed: str, quiet: tuple[str, ...] = (), count: int = STEPS) -> Iterator[dict[str, int]]:
    """Turn over one input after the other at random, the ``quiet`` ones more seldom; gives all levels each time."""
    chance = random.Random(seed)
    inputs = [pin.name for pin in part.part.pins if pin.direction is Direction.INPUT]
    yield dict(part.pins)
    for _ in range(count):
        name = chance.choice(inputs)
        if name not in quiet or chance.random() < (0.2 if part.pins[name] else 0.7):
            part.set(**{name: 1 - part.pins[name]})
            yield dict(part.pins)


class EdgeTriggered:
    """Looks at J and K at the falling edge (at the rising one, with K inverted, for the 109)."""

    def __init__(self, number: int, rising: bool = False) -> None:
        self.q, self.clock, self.number, self.rising = 0, 0, number, rising

    def step(self, now: dict[str, int]) -> tuple[int, int]:
        level = lambda name, other=1: now.get(f"{name}{self.number}_n", other)  # noqa: E731
        clock = now[f"CLK{self.number}"]
        j = now[f"J{self.number}"]
        k = 1 - level("K") if self.rising else now[f"K{self.number}"]
        if self.clock != clock and clock == self.rising:
            self.q = {(0, 0): self.q, (1, 0): 1, (0, 1): 0, (1, 1): 1 - self.q}[j, k]
        self.clock = clock
        if level("PRE") == 0:
            self.q = 1
        if level("CLR") == 0:
            self.q = 0
        both = level("PRE") == 0 and level("CLR") == 0
        return (1, 1) if both else (self.q, 1 - self.q)


class PulseTriggered:
    """Remembers while the clock is high whether the input that counts was ever high; turns over at the fall."""

    def __init__(self, number: int) -> None:
        self.q, self.caught, self.clock, self.number = 0, False, 0, number

    def step(self, now: dict[str, int]) -> tuple[int, int]:
        level = lambda name, other=1: now.get(f"{name}{self.number}_n", other)  # noqa: E731
        clock, counts = now[f"CLK{self.number}"], now[f"{'K' if self.q else 'J'}{self.number}"]
        if level("CLR") == 0 or level("PRE") == 0:
            self.q, self.caught = int(level("CLR") != 0), False
        elif clock:
            self.caught = self.caught or bool(counts)
        elif self.clock and self.caught:
            self.q = 1 - self.q
        if not clock:
            self.caught = False
        self.clock = clock
        both = level("PRE") == 0 and level("CLR") == 0
        return (1, 1) if both else (self.q, 1 - self.q)


@pytest.mark.parametrize("name", ["74LS73", "74HC107", "74LS76", "74S112", "74HC112", "7473", "74107", "7476", "74109"])
def test_a_jk_flip_flop_follows_its_table(name: str) -> None:
    kind = PulseTriggered if name in {"7473", "74107", "7476"} else EdgeTriggered
    part = Bench(find(name))
    pair = [EdgeTriggered(n, rising=True) if name == "74109" else kind(n) for n in (1, 2)]
    quiet = tuple(f"{each}{n}_n" for each in ("CLR", "PRE") for n in (1, 2))
    seen = set()
    for now in walk(part, name, quiet):
        for model in pair:
            shown = part.read(f"Q{model.number}"), part.read(f"Q{model.number}_n")
            assert shown == model.step(now)
            seen.add(shown)
    assert {(0, 1), (1, 0)} <= seen


def test_a_moment_of_j_is_caught_by_ttl_and_not_by_ls() -> None:
    """The known difference of the 7473 and the 74LS73A, from memory of their sheets."""
    for name, wanted in (("7473", 1), ("74LS73", 0)):
        part = Bench(find(name), CLR1_n=1).set(CLK1=1).pulse("J1")
        assert part.read("Q1") == 0
        assert part.set(CLK1=0).read("Q1") == wanted


@pytest.mark.parametrize("name", ["7473", "74LS73", "7476", "74LS112"])
def test_a_ripple_counter_in_the_oracle(name: str) -> None:
    """Flip-flops with J and K high, each clocked by the one before, count in binary: common practice."""
    machine = Builder()
    spare = {"PRE1_n": "high", "PRE2_n": "high"} if name in {"7476", "74LS112"} else {}
    machine.add(
        name, J1="high", K1="high", J2="high", K2="high", CLK1="clock", CLK2="q0", Q1="q0", Q2="q1",
        CLR1_n="clear_n", CLR2_n="clear_n", **spare,
    )  # fmt: skip
    oracle = Oracle(machine.netlist())
    oracle.force_all({machine.net("clock"): 0, machine.net("clear_n"): 0})
    oracle.force(machine.net("clear_n"), 1)
    counted = []
    for _ in range(6):
        oracle.force(machine.net("clock"), 1)
        oracle.force(machine.net("clock"), 0)
        counted.append(oracle.read([machine.net("q0"), machine.net("q1")]))
    assert counted == [1, 2, 3, 0, 1, 2]


@pytest.mark.parametrize("name", ["7473", "74LS73"])
def test_a_shift_chain_on_one_clock_moves_one_place_a_clock(name: str) -> None:
    """J from Q and K from /Q of the flip-flop before: both kinds shift without running through."""
    machine = Builder()
    machine.add(
        name, J1="data", K1="data_n", J2="q0", K2="q0_n", CLK1="clock", CLK2="clock", Q1="q0", Q1_n="q0_n", Q2="q1",
        CLR1_n="clear_n", CLR2_n="clear_n",
    )  # fmt: skip
    oracle = Oracle(machine.netlist())
    of = machine.net
    oracle.force_all({of("clock"): 0, of("clear_n"): 0, of("data"): 0, of("data_n"): 1})
    oracle.force(of("clear_n"), 1)
    shown = []
    for bit in (1, 0, 1, 1, 0):
        oracle.force_all({of("data"): bit, of("data_n"): 1 - bit})
        oracle.force(of("clock"), 1)
        oracle.force(of("clock"), 0)
        shown.append((oracle.read([of("q0")]), oracle.read([of("q1")])))
    assert shown == [(1, 0), (0, 1), (1, 0), (1, 1), (0, 1)]


def test_the_75_is_transparent_pair_by_pair() -> None:
    part, held = bench("75"), [0, 0, 0, 0]
    for now in walk(part, "75"):
        for place, enable in enumerate(("C12", "C12", "C34", "C34")):
            held[place] = now[f"D{place + 1}"] if now[enable] else held[place]
        assert [part.read(f"Q{n}") for n in (1, 2, 3, 4)] == held
        assert [part.read(f"Q{n}_n") for n in (1, 2, 3, 4)] == [1 - level for level in held]


def test_the_259_in_its_four_modes() -> None:
    part, held, modes = bench("259"), [0] * 8, set()
    for now in walk(part, "259", count=1500):
        address = now["S0"] + 2 * now["S1"] + 4 * now["S2"]
        if not now["CLR_n"]:
            held = [0] * 8
        if not now["G_n"]:
            held[address] = now["D"]
        modes.add((now["CLR_n"], now["G_n"]))
        assert [part.read(f"Q{n}") for n in range(8)] == held
    assert len(modes) == 4


def test_the_279_sets_resets_and_holds() -> None:
    part = bench("279", S1_1_n=1, S1_2_n=1, S2_n=1, S3_1_n=1, S3_2_n=1, S4_n=1, R1_n=1, R2_n=1, R3_n=1, R4_n=1)
    sets = {1: ("S1_1_n", "S1_2_n"), 2: ("S2_n",), 3: ("S3_1_n", "S3_2_n"), 4: ("S4_n",)}
    held = dict.fromkeys(sets, 0)
    for now in walk(part, "279"):
        for number, inputs in sets.items():
            if any(not now[name] for name in inputs):
                held[number] = 1
            elif not now[f"R{number}_n"]:
                held[number] = 0
            assert part.read(f"Q{number}") == held[number]


@pytest.mark.parametrize(("number", "enable"), [("373", "OC_n"), ("573", "OE_n")])
def test_octal_latches_with_three_state_outputs(number: str, enable: str) -> None:
    part, held = bench(number), 0
    chance = random.Random(number)
    for _ in range(STEPS):
        change = chance.choice(["LE", enable, "D"])
        part.set(**{change: chance.getrandbits(8) if change == "D" else 1 - part.pins[change]})
        data = sum(part.pins[f"D{n}"] << n - 1 for n in range(1, 9))
        held = data if part.pins["LE"] else held
        assert part.read("Q") == (None if part.pins[enable] else held)


def test_the_845_sets_clears_and_follows() -> None:
    part, held = bench("845", PRE_n=1, CLR_n=1), 0
    chance = random.Random("845")
    for _ in range(STEPS):
        change = chance.choice(["LE", "OE1_n", "OE2_n", "OE3_n", "PRE_n", "CLR_n", "D", "D"])
        part.set(**{change: chance.getrandbits(8) if change == "D" else 1 - part.pins[change]})
        pins = part.pins
        data = sum(pins[f"D{n}"] << n - 1 for n in range(1, 9))
        held = 255 if not pins["PRE_n"] else 0 if not pins["CLR_n"] else data if pins["LE"] else held
        off = pins["OE1_n"] or pins["OE2_n"] or pins["OE3_n"]
        assert part.read("Q") == (None if off else held)


@pytest.mark.parametrize(("number", "width"), [("378", 6), ("379", 4)])
def test_registers_with_an_enable_and_no_clear(number: str, width: int) -> None:
    part, held, clock = bench(number), 0, 0
    for now in walk(part, number, count=3000):
        data = sum(now[f"D{n}"] << n - 1 for n in range(1, width + 1))
        held = data if now["CLK"] > clock and not now["G_n"] else held
        clock = now["CLK"]
        assert part.read("Q") == held
        if number == "379":
            assert part.read("Q_n") == 15 - held


def test_the_575_clears_with_its_clock_only() -> None:
    part, held, clock = bench("575"), 0, 0
    for now in walk(part, "575", count=3000):
        data = sum(now[f"D{n}"] << n - 1 for n in range(1, 9))
        if now["CLK"] > clock:
            held = data if now["CLR_n"] else 0
        clock = now["CLK"]
        assert part.read("Q") == (None if now["OE_n"] else held)


PINS_575 = "CLR_n OE_n D1 D2 D3 D4 D5 D6 D7 D8 NC11 GND NC13 CLK Q8 Q7 Q6 Q5 Q4 Q3 Q2 Q1 NC23 VCC"


def test_pins_of_the_575() -> None:
    """TI SDAS165B, connection diagram of SN74ALS575A."""
    assert [pin.name for pin in find("74ALS575").pins] == PINS_575.split()
