"""One-shots, 555s, transistors, resistors and switches of a case on the oracle.

The tables are those of the makers' sheets from memory (SDLS043, SDLS213, NE555), the 555's formulas as published (ST
NE555 Doc ID 2182 Rev 6 p.10); what stands around the chips is common practice.
"""

from __future__ import annotations

import pytest
from building import Builder
from hypothesis import given, settings
from hypothesis import strategies as st
from published import entry_of

from latchwork import LOW, Machine
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.parts import Direction, TieKind

MICROSECOND = 1_000_000
WIDTH = 10 * MICROSECOND
TIMES = {"width1": WIDTH, "width2": WIDTH}
FREE = Value.NOTHING


def pass_time(oracle: Oracle, microseconds: int) -> None:
    """Events up to and with that moment; a crystal gives one each microsecond."""
    end = oracle.time_ps + microseconds * MICROSECOND
    while oracle.next_time is not None and oracle.next_time <= end:
        oracle.tick()


class Shot:
    """One half of a dual one-shot with its three inputs in hand, and time that passes in microseconds."""

    def __init__(self, part: str, half: int = 1, unknown: bool = False) -> None:
        board = Builder()
        names = {f"A{half}": "a", f"B{half}": "b", f"CLR{half}_n": "clear_n", f"Q{half}": "q", f"Q{half}_n": "q_n"}
        board.add(part, parameters=TIMES, **names)
        board.add("crystal oscillator", parameters={"period": 2 * MICROSECOND}, OUT="steps")
        self.nets = {name: board.net(name) for name in names.values()}
        self.oracle = Oracle(board.netlist(), unknown=unknown)
        self.set(a=0, b=0, clear_n=1)
        self.set(clear_n=0)
        self.set(clear_n=1)

    def set(self, **levels: int) -> Shot:
        self.oracle.force_all({self.nets[name]: level for name, level in levels.items()})
        return self

    def wait(self, microseconds: int) -> Shot:
        pass_time(self.oracle, microseconds)
        return self

    @property
    def q(self) -> int:
        q, q_n = (self.oracle.value(self.nets[name]) for name in ("q", "q_n"))
        assert {q, q_n} == {Value.LOW, Value.HIGH}
        return int(q)


PARTS = ("74HC123", "74HC221")
each = pytest.mark.parametrize("part", PARTS)


@each
@pytest.mark.parametrize("half", [1, 2])
def test_a_pulse_lasts_its_time(part: str, half: int) -> None:
    shot = Shot(part, half)
    assert shot.q == 0
    assert shot.set(b=1).q == 1
    assert shot.wait(9).q == 1
    assert shot.wait(2).q == 0
    assert shot.set(b=0).wait(20).q == 0


TRIGGERS = [  # levels before and after, and whether that starts a pulse
    ({"a": 0, "b": 0}, {"b": 1}, True),
    ({"a": 1, "b": 1}, {"a": 0}, True),
    ({"a": 1, "b": 0}, {"b": 1}, False),
    ({"a": 1, "b": 0}, {"a": 0}, False),
    ({"a": 0, "b": 0, "clear_n": 0}, {"b": 1}, False),
    ({"a": 0, "b": 1, "clear_n": 0}, {"clear_n": 1}, True),
    ({"a": 1, "b": 1, "clear_n": 0}, {"clear_n": 1}, False),
    ({"a": 0, "b": 0}, {"a": 1}, False),
]


@each
@pytest.mark.parametrize(("before", "after", "starts"), TRIGGERS)
def test_what_starts_a_pulse(part: str, before: dict[str, int], after: dict[str, int], starts: bool) -> None:
    shot = Shot(part).set(**before).wait(12)
    assert shot.q == 0
    assert shot.set(**after).q == starts


@settings(max_examples=12, deadline=None)
@given(st.lists(st.integers(1, 14), min_size=1, max_size=5))
@pytest.mark.parametrize("part", PARTS)
def test_triggers_during_the_pulse(part: str, gaps: list[int]) -> None:
    """Against whole microseconds: the 123 counts from the last trigger, the 221 from the last outside of a pulse."""
    shot, now, end = Shot(part), 0, 0
    for gap in gaps:
        shot.set(b=0).set(b=1)
        assert shot.q == 1
        if part == "74HC123" or now >= end:
            end = now + 10
        shot.wait(gap)
        now += gap
        assert shot.q == (now < end)


@each
def test_a_clear_ends_the_pulse_and_the_next_has_its_full_time(part: str) -> None:
    shot = Shot(part).set(b=1).wait(4)
    assert shot.set(clear_n=0).q == 0
    shot.set(b=0).set(clear_n=1)
    assert shot.q == 0
    assert shot.set(b=1).q == 1
    assert shot.wait(9).q == 1, "not cut short by what was left of the first"
    assert shot.wait(2).q == 0


@each
def test_after_a_clear_everything_is_known(part: str) -> None:
    """In the unknown reading, too."""
    shot = Shot(part, unknown=True)
    assert shot.q == 0
    assert shot.set(b=1).q == 1
    assert shot.wait(11).q == 0


def test_555_one_shot_holds_while_its_trigger_is_low() -> None:
    board = Builder()
    board.add("555 one-shot", parameters={"width": WIDTH}, TRIG="trig", RESET_n="reset_n", OUT="out")
    board.add("crystal oscillator", parameters={"period": 2 * MICROSECOND}, OUT="steps")
    trig, reset_n, out = (board.net(name) for name in ("trig", "reset_n", "out"))
    oracle = Oracle(board.netlist())

    def after(microseconds: int, **levels: int) -> int:
        oracle.force_all({{"trig": trig, "reset_n": reset_n}[name]: level for name, level in levels.items()})
        pass_time(oracle, microseconds)
        return int(oracle.value(out))

    assert after(0, trig=1, reset_n=0) == 0
    assert after(0, reset_n=1) == 0
    assert after(0, trig=0) == 1
    assert after(8, trig=1) == 1
    assert after(3) == 0
    assert after(15, trig=0) == 1, "held by its trigger"
    assert after(0, trig=1) == 0
    after(0, trig=0)
    assert after(1, trig=1) == 1
    assert after(0, reset_n=0) == 0
    assert after(0, reset_n=1) == 0


def test_555_oscillator_by_its_published_formula() -> None:
    """RA 3.9 k, RB 3 k, C 10 nF: 14.5 kHz by 1.44 / ((RA + 2 RB) C) (ST NE555 p.10)."""
    frequency = 1.44 / ((3900 + 2 * 3000) * 10e-9)
    assert round(frequency) == 14545
    board = Builder()
    period = round(1e12 / frequency)
    board.add("555 oscillator", parameters={"period": period}, RESET_n="high", OUT="out")
    out, oracle, rises = board.net("out"), Oracle(board.netlist()), 0
    before = oracle.value(out)
    while oracle.time_ps < 1e12:  # a second
        oracle.tick()
        rises += oracle.value(out) > before
        before = oracle.value(out)
    assert abs(rises - frequency) <= 1


def test_the_555_has_the_published_pins() -> None:
    """TI NE555, from memory."""
    wanted = ["GND", "TRIG", "OUT", "RESET", "CONT", "THRES", "DISCH", "VCC"]
    for number in ("555 oscillator", "555 one-shot"):
        assert [pin.sheet for pin in entry_of(number).pins] == wanted


def test_a_machine_gives_a_chip_its_times() -> None:
    machine = Machine("wren", family="HC")
    start = machine.net("start")
    machine.chip(
        "123", A1=LOW, B1=start, CLR1_n=start, A2=LOW, B2=LOW, CLR2_n=LOW, times={"width1": "10u", "width2": 1}
    )
    (chip,) = machine.netlist().chips
    assert dict(chip.parameters) == {"width1": WIDTH, "width2": 10**12}


@pytest.mark.parametrize(("part", "into", "out"), [("2N7000", "G", "D"), ("NPN transistor", "B", "C")])
def test_a_transistor_pulls_its_output_down_and_lets_it_go(part: str, into: str, out: str) -> None:
    board = Builder()
    board.add(part, **{into: "in", out: "out"})
    board.add(part, **{into: "in", out: "pulled"})
    board.pull("pulled", "high")
    oracle = Oracle(board.netlist())
    for level, bare, pulled in ((0, FREE, Value.HIGH), (1, Value.LOW, Value.LOW)):
        oracle.force(board.net("in"), level)
        assert (oracle.value(board.net("out")), oracle.value(board.net("pulled"))) == (bare, pulled)
    ground = next(pin for pin in entry_of(part).pins if pin.direction is Direction.GROUND)
    assert ground.number == 1


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 255))
def test_uln2803_pulls_each_output_whose_input_is_high(value: int) -> None:
    board = Builder()
    board.add("ULN2803", B=board.bus("in", 8), C=board.bus("out", 8))
    oracle = Oracle(board.netlist())
    oracle.force_all({board.net(f"in[{bit}]"): value >> bit & 1 for bit in range(8)})
    shown = [oracle.value(board.net(f"out[{bit}]")) for bit in range(8)]
    assert shown == [Value.LOW if value >> bit & 1 else FREE for bit in range(8)]


def test_uln2803_has_outputs_opposite_to_inputs() -> None:
    pins = {pin.name: pin.number for pin in entry_of("ULN2803").pins}
    assert all(pins[f"B{place}"] + pins[f"C{place}"] == 19 for place in range(1, 9))


def test_a_resistor_network_pulls_all_and_ties_none_strongly() -> None:
    board = Builder()
    board.add("resistor network", COM="high", R=board.bus("net", 8))
    board.add("resistor pack", A=board.bus("net", 8), B=board.bus("far", 8))
    oracle = Oracle(board.netlist())
    oracle.force(board.net("net[2]"), 0)
    shown = [oracle.value(board.net(f"net[{bit}]")) for bit in range(8)]
    assert shown == [Value.LOW if bit == 2 else Value.HIGH for bit in range(8)]
    far = [oracle.value(board.net(f"far[{bit}]")) for bit in range(8)]
    assert far == [Value.LOW if bit == 2 else FREE for bit in range(8)], "weak levels are not handed on"


def test_each_of_eight_switches_is_set_by_itself() -> None:
    board = Builder()
    chip = board.add("DIP switch", A=board.bus("net", 8), B=["low"] * 8)
    board.add("resistor network", COM="high", R=board.bus("net", 8))
    oracle = Oracle(board.netlist())
    for closed in (0, 3, 7):
        oracle.set_switch(chip, True, f"S{closed + 1}")
    shown = sum(oracle.value(board.net(f"net[{bit}]")) << bit for bit in range(8))
    assert shown == 0xFF & ~0b1000_1001


@pytest.mark.parametrize(
    ("number", "kind"),
    [
        *(("LED bar", "lamp"), ("digit common cathode", "lamp"), ("digit common anode", "lamp"), ("diode", "passive")),
        *(("capacitor", "passive"), ("electrolytic capacitor", "passive")),
        *(("5 V regulator", "supply"), ("3.3 V regulator", "supply")),
    ],
)
def test_what_has_no_logic_has_no_behaviour(number: str, kind: str) -> None:
    entry = entry_of(number)
    assert entry.kind == kind
    assert entry.behaviour == type(entry.behaviour)()
    assert {pin.direction for pin in entry.pins} <= {Direction.PASSIVE, Direction.GROUND}


def test_opposite_pins_of_cases_in_two_rows() -> None:
    """A bar's cathode opposite to its anode, a switch's and a pack's B opposite to its A (common practice)."""
    for number, one, other, count in (
        ("LED bar", "A", "K", 10),
        ("DIP switch", "A", "B", 8),
        ("resistor pack", "A", "B", 8),
    ):
        pins = {pin.name: pin.number for pin in entry_of(number).pins}
        assert all(pins[f"{one}{n}"] + pins[f"{other}{n}"] == 2 * count + 1 for n in range(1, count + 1))
    kinds = {
        number: {tie.kind for tie in entry_of(number).behaviour.ties} for number in ("DIP switch", "resistor pack")
    }
    assert kinds == {"DIP switch": {TieKind.SWITCH}, "resistor pack": {TieKind.RESISTOR}}
