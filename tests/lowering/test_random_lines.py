"""Random wirings between a store and its control lines: the solver against every word tried one by one."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.analysis.lines import Lines
from latchwork.analysis.settle import Combinational
from latchwork.analysis.store import StoreWiring
from latchwork.design import Net
from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.lowering.needs import Circumstances, needs_of
from latchwork.languages.microprogram.lowering.solver import Solver
from latchwork.languages.microprogram.lowering.wishes import Case, Wish
from latchwork.netlist import Netlist

GATES = ("and", "or", "nand", "nor", "xor")


@dataclass
class Wired:
    netlist: Netlist
    lines: Lines
    words: list[int]
    flag: int


@st.composite
def wirings(draw: st.DrawFn) -> Wired:
    """Two to five word bits, maybe through a register, gates, maybe a decoder, a flag, and lines on all."""
    m = Machine("random")
    count = draw(st.integers(2, 5))
    clock = m.clock(1_000_000)
    word = m.bus("word", count)
    flag = m.net("flag")
    opcode = m.net("opcode")
    m.chip("74", CLK1=clock, D1=opcode, CLR1_n=HIGH, PRE1_n=HIGH, Q1=flag, CLK2=LOW, D2=LOW, CLR2_n=HIGH, PRE2_n=HIGH)
    rom = m.chip("28C16", A=[opcode, *[LOW] * 10], D=[*word, *[OPEN] * (8 - count)], CE_n=LOW, OE_n=LOW, WE_n=HIGH)
    pool: list[Net] = list(word)
    if draw(st.booleans()):
        held = m.bus("held", count)
        m.chip("377", CLK=clock, G_n=LOW, D=[*word, *[LOW] * (8 - count)], Q=[*held, *[OPEN] * (8 - count)])
        pool = list(held)
    if draw(st.booleans()):
        select = [draw(st.sampled_from(pool)) for _ in range(3)]
        decoded = m.chip("138", S=select, G1=draw(st.sampled_from(pool)), G2A_n=LOW, G2B_n=LOW).Y
        pool += list(decoded)
    if draw(st.booleans()):
        pool.append(flag)
    for number in range(draw(st.integers(1, 5))):
        line = m.line(f"line{number}" + draw(st.sampled_from(["", "_n"])), rest=draw(st.sampled_from([HIGH, LOW])))
        m.gate(draw(st.sampled_from(GATES)), draw(st.sampled_from(pool)), draw(st.sampled_from(pool)), out=line)
        pool.append(line)
    m.microprogram("none.micro", store=[rom], opcode=opcode, conditions={"flag": flag})
    netlist, binding = m.netlist(), m.statements().microprogram
    assert binding is not None
    named = netlist.net_named
    return Wired(
        netlist, Lines(StoreWiring(netlist, binding)), [named[f"word[{i}]"] for i in range(count)], named["flag"]
    )


def levels_of(wired: Wired, word: tuple[int, ...], flag: int) -> dict[str, tuple[int, int]]:
    """The lines under one word, which the register has taken as well, and one level of the flag."""
    given = {**dict(zip(wired.words, word, strict=True)), wired.flag: flag}
    named = wired.netlist.net_named
    given |= {named[f"held[{bit}]"]: level for bit, level in enumerate(word) if "held" in wired.netlist.bus_named}
    found = Combinational(wired.netlist).values([line.net for line in wired.netlist.lines], given)
    return {line.name: found[line.net] for line in wired.netlist.lines}


def fits(wired: Wired, word: tuple[int, ...], wish: Wish, rest: dict[str, int | None]) -> bool:
    for flag in (0, 1):
        levels = levels_of(wired, word, flag)
        for case in wish.cases:
            if all(level == flag for _, level in case.conditions):
                wanted = {**rest, **dict(case.levels)}
                if any(level is not None and levels[name] != (level, 1) for name, level in wanted.items()):
                    return False
    return True


def solved(wired: Wired, wish: Wish, rest: dict[str, int | None]) -> tuple[int, ...] | None:
    findings = Findings()
    solver = Solver(wired.lines, findings)
    assert not findings.problems
    bits: dict[int, int] = {}
    for place, part in enumerate(solver.parts):
        choice = solver.answer(place, needs_of(part.component, wish, rest, Circumstances()))
        if choice is None:
            return None
        bits |= solver.bits(place, choice)
    return tuple(bits.get(net, 0) for net in wired.words)


@settings(max_examples=60, deadline=None)
@given(wirings(), st.data())
def test_the_solver_finds_the_lowest_word_that_fits(wired: Wired, data: st.DataObject) -> None:
    names = [line.name for line in wired.netlist.lines]
    asked = st.dictionaries(st.sampled_from(names), st.sampled_from([0, 1, None]), max_size=3)
    if data.draw(st.booleans(), label="branches"):
        cases = tuple(Case((("flag", level),), tuple(data.draw(asked).items())) for level in (0, 1))
    else:
        cases = (Case((), tuple(data.draw(asked).items())),)
    wish = Wish(cases)
    rest: dict[str, int | None] = {line.name: line.rest for line in wired.netlist.lines}
    words = [word[::-1] for word in product((0, 1), repeat=len(wired.words))]
    fitting = [word for word in words if fits(wired, word, wish, rest)]
    found = solved(wired, wish, rest)
    assert (found is None) == (not fitting)
    if found is not None:
        assert found in fitting
        assert found == fitting[0]
