"""What chosen nets settle to: against the oracle on whole machines, and case by case on small ones."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from latchwork import HIGH, LOW, Machine, keeper, pull_down, pull_up
from latchwork.analysis.cones import cone
from latchwork.analysis.settle import Combinational
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.load.model import load_model, with_program
from latchwork.netlist import Netlist

ROOT = Path(__file__).parents[2]
FOLDERS = [
    ROOT / "machines" / "dunlin",
    ROOT / "tests" / "machines" / "redshank",
    ROOT / "tests" / "machines" / "whimbrel",
]


def held(netlist: Netlist, oracle: Oracle) -> dict[tuple[int, str], tuple[int, int]]:
    """All registers, latches and timers as the oracle has them."""
    found = {}
    for chip in range(len(netlist.chips)):
        behaviour = netlist.part_of(chip).behaviour
        widths = {item.name: item.width for item in (*behaviour.registers, *behaviour.latches)}
        for name, width in {**widths, **{timer.name: 1 for timer in behaviour.timers}}.items():
            value = oracle.state(chip, name)
            if value is not None:
                found[chip, name] = (value, (1 << width) - 1)
    return found


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_a_machine_settles_as_the_oracle_has_it(folder: Path) -> None:
    """With all states and ROMs given, what is called known is so; only what RAM shows may be unknown."""
    model = with_program(load_model(folder), next(folder.rglob("multiply.asm")))
    oracle = Oracle(model.netlist, model.contents)
    whole = Combinational(model.netlist, model.contents)
    nets = range(len(model.netlist.nets))
    known = total = 0
    for _ in range(30):
        oracle.tick()
        for net, (value, mask) in whole.values(nets, {}, held(model.netlist, oracle)).items():
            carried = oracle.value(net)
            if mask:
                assert carried == value, model.netlist.nets[net].name
                known += 1
            total += carried in (Value.LOW, Value.HIGH)
    assert known > 0.9 * total


def driven(build: Callable[[Machine], object], **given: int) -> tuple[int, int]:
    """The level of the net "out" under given nets."""
    m = Machine("bench")
    build(m)
    netlist = m.netlist()
    out = netlist.net_named["out"]
    levels = {netlist.net_named[name]: level for name, level in given.items()}
    return Combinational(netlist).values([out], levels)[out]


def two_way(m: Machine) -> None:
    out = m.net("out", idle=pull_up("10k"))
    for name in ("a", "b"):
        m.chip("125", label=name, A1=m.net(name), OE1_n=m.net(f"{name}_n"), Y1=out)


@pytest.mark.parametrize(("given", "expected"), [
    ({"a": 0, "a_n": 0, "b_n": 1}, (0, 1)),
    ({"a_n": 1, "b_n": 1}, (1, 1)),  # nobody drives: the pull does
    ({"a": 0, "a_n": 0, "b": 1, "b_n": 0}, (0, 0)),  # a fight
    ({"a": 0, "a_n": 0, "b": 0}, (0, 1)),  # whether b joins in does not matter
    ({"a": 0, "a_n": 0, "b": 1}, (0, 0)),
    ({"a": 1, "b": 1}, (1, 1)),  # driven or pulled, it is high
    ({"a": 0, "b_n": 1}, (0, 0)),
])  # fmt: skip
def test_drivers_of_a_net(given: dict[str, int], expected: tuple[int, int]) -> None:
    assert driven(two_way, **given) == expected


def test_enables_are_told() -> None:
    m = Machine("bench")
    two_way(m)
    netlist = m.netlist()
    named = netlist.net_named
    told = Combinational(netlist).enables(named["out"], {named["a_n"]: 0, named["b_n"]: 1})
    assert [enabled for _, enabled in told] == [True, False]
    assert [enabled for _, enabled in Combinational(netlist).enables(named["out"])] == [None, None]


def test_a_given_net_overrides_its_driver() -> None:
    def build(m: Machine) -> None:
        m.gate("inverter", m.gate("inverter", m.net("a"), name="between"), out=m.net("out"))

    assert driven(build, a=1, between=1) == (0, 1)


def test_a_switch_may_be_open_or_closed() -> None:
    m = Machine("bench")
    m.gate("inverter", m.switch("mode"), out=m.net("out"))
    netlist = m.netlist()
    chip = next(i for i in range(len(netlist.chips)) if netlist.part_of(i).name == "switch")
    tie = netlist.part_of(chip).behaviour.ties[0].name
    out = netlist.net_named["out"]
    assert Combinational(netlist).values([out])[out] == (0, 0)
    assert Combinational(netlist, closed={(chip, tie): True}).values([out])[out] == (1, 1)
    assert Combinational(netlist, closed={(chip, tie): False}).values([out])[out] == (0, 1)
    assert cone(Combinational(netlist), [out]).switches == {(chip, tie)}


def test_assumptions_are_facts() -> None:
    m = Machine("bench")
    m.gate("and", m.net("a"), m.switch("mode"), out=m.net("out"))
    m.assume(mode=LOW)
    netlist = m.netlist()
    out = netlist.net_named["out"]
    assert Combinational(netlist).values([out])[out] == (0, 1)


def test_a_loop_of_gates_is_unknown_unless_something_decides_it() -> None:
    def build(m: Machine) -> None:
        out, q_n = m.net("out"), m.net("q_n")
        m.gate("nand", m.net("set_n"), q_n, out=out)
        m.gate("nand", m.net("clear_n"), out, out=q_n)

    assert driven(build, set_n=0) == (1, 1)
    assert driven(build, set_n=1, clear_n=0) == (0, 1)
    assert driven(build, set_n=1, clear_n=1) == (0, 0)


def test_a_kept_net_and_a_pulled_one() -> None:
    def kept(m: Machine) -> None:
        m.gate("or", m.net("line", idle=keeper()), LOW, out=m.net("out"))

    def pulled(m: Machine) -> None:
        m.gate("or", m.net("line", idle=pull_down("10k")), LOW, out=m.net("out"))

    assert driven(kept) == (0, 0)
    assert driven(pulled) == (0, 1)


def test_an_open_input_reads_as_its_family_does() -> None:
    def open_input(family: str) -> Callable[[Machine], object]:
        return lambda m: m.gate("or", m.net("line"), LOW, out=m.net("out"), family=family)

    assert driven(open_input("LS")) == (1, 1)
    assert driven(open_input("HCT")) == (0, 0)


def test_an_open_latch_shows_its_data_and_a_clear_acts() -> None:
    def latch(m: Machine) -> None:
        out = m.net("out")
        m.chip("373", D=[m.net("d"), *[LOW] * 7], LE=m.net("open"), OC_n=LOW, Q=[out, *m.bus("rest", 7)])

    def register(m: Machine) -> None:
        m.chip("273", CLK=m.net("c"), CLR_n=m.net("clear_n"), D=[HIGH] * 8, Q=[m.net("out"), *m.bus("rest", 7)])

    assert driven(latch, d=1, open=1) == (1, 1)
    assert driven(latch, d=1, open=0) == (0, 0)
    assert driven(register, clear_n=0) == (0, 1)
    assert driven(register, clear_n=1) == (0, 0)


def test_bits_of_one_buffer_do_not_make_a_false_loop() -> None:
    def build(m: Machine) -> None:
        bus = m.bus("through", 8)
        turned = m.gate("inverter", bus[0])
        m.chip("541", A=[m.net("a"), turned, *[LOW] * 6], Y=bus, G1_n=LOW, G2_n=LOW)
        m.gate("inverter", bus[1], out=m.net("out"))

    assert driven(build, a=1) == (1, 1)


def test_a_cone_ends_at_cuts_states_and_memories() -> None:
    m = Machine("bench")
    result, a = m.net("out"), m.net("a")
    clock = m.clock(1_000_000)
    held_q = m.chip("377", CLK=clock, G_n=LOW, D=[a] * 8).Q
    rom = m.chip("28C16", A=[*held_q, LOW, LOW, LOW], CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    m.gate("and", rom.D[3], a, held_q[2], out=result)
    netlist = m.netlist()
    out = netlist.net_named["out"]
    whole = Combinational(netlist)
    found = cone(whole, [out], [netlist.net_named["a"]])
    assert found.nets == {netlist.net_named["a"]}
    assert len(found.states) == 8
    assert [netlist.part_of(chip).name for chip in found.memories] == ["28C16"]
