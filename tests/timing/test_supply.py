"""What a machine draws: sums that can be done by hand, and the report on Dunlin.

C V f for what switching costs, a charge for every full swing (common practice; application notes on the power of CMOS
logic). Currents through lamps are those of their resistors, for the share of the time that they are lit.
"""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.chips.figures import stated
from latchwork.load.model import load_model, with_program
from latchwork.model import Model
from latchwork.tools.supply.activity import seen
from latchwork.tools.supply.currents import USUAL_PD, Currents, at_rest
from latchwork.tools.supply.reporting import Asked, supply

ROOT = Path(__file__).parents[2]
DUNLIN = ROOT / "machines" / "dunlin"


def halver(family: str = "HC") -> Machine:
    """A flip-flop that halves the clock, and a lamp on it."""
    m = Machine("halver", family=family)
    clock = m.clock(1_000_000)
    q, q_n = m.net("q"), m.net("q_n")
    m.chip(
        "74", CLK1=clock, D1=q_n, CLR1_n=HIGH, PRE1_n=HIGH, Q1=q, Q1_n=q_n,
        CLK2=LOW, D2=LOW, CLR2_n=HIGH, PRE2_n=HIGH, Q2=OPEN, Q2_n=OPEN,
    )  # fmt: skip
    m.lamp(q, colour="red", resistor="1k")
    return m


def test_a_flip_flop_that_halves_the_clock() -> None:
    """1 MHz in, 0.5 MHz out: q and q_n swing half a million times a second, and the lamp is lit half of the time with
    (5 - 1.8) V / 1 kohm."""
    netlist = halver().netlist()
    graph, found = seen(Model(ROOT, netlist), 1_000_000, 400)
    q, q_n, clock = (netlist.net_named[name] for name in ("q", "q_n", "clock"))
    assert found.rate(clock) == pytest.approx(2e6, rel=0.01)
    assert found.rate(q) == pytest.approx(1e6, rel=0.01)
    assert found.share(q) == pytest.approx(0.5, abs=0.05)
    currents = Currents(graph, found)
    chip = netlist.chip_named["U1"]
    weight = sum(currents.graph.loads.picofarads(net, graph.corner) + USUAL_PD for net in (q, q_n))
    assert currents.switching(chip) == pytest.approx(weight * 1e-12 * 5 * 0.5e6 * 1000, rel=0.02)
    lamps, pulls = currents.lamps_and_pulls(q)
    assert lamps == pytest.approx((5 - 1.8) / 2, rel=0.1)
    assert pulls == 0


def test_the_sheets_current_counts() -> None:
    """A figure of a sheet stands as it is, its maximum first; a part without one is assumed, and says so."""
    netlist = halver("LS").netlist()
    part = next(part for part in netlist.parts if part.name == "74LS74")
    known = replace(part, figures=(stated("LS", "supply current", typical=4, maximum=8, unit="mA", source="the test"),))
    assert at_rest(known) == (8, "read")
    assert at_rest(replace(part, figures=()))[1] == "assumed"


def test_drops_follow_the_current() -> None:
    """Ten times the wire, or a thinner one, drops more; a second feed drops less; the boards add up to the total."""
    model = load_model(DUNLIN)
    near, far, thin = (supply(model, asked) for asked in (Asked(), Asked(inches=80), Asked(gauge=28)))
    for other in (far, thin):
        assert all(a.lowest >= b.lowest for a, b in zip(near.boards, other.boards, strict=True))
    assert all(board.with_second_feed >= board.lowest for board in near.boards)
    assert near.total == pytest.approx(sum(board.feed for board in near.boards), abs=0.1)
    assert near.advised * 1000 >= 1.5 * near.total
    assert not near.below
    assert supply(model, Asked(inches=200, gauge=28)).boards[1].lowest < near.boards[1].lowest - 0.04


def test_a_faster_clock_costs_more_switching() -> None:
    """In proportion, where the program does the same (common practice)."""
    model = with_program(load_model(DUNLIN), DUNLIN / "programs" / "selftest.asm")
    slow, fast = (supply(model, Asked(period=period, clocks=300)) for period in (2_000_000, 1_000_000))
    ratio = sum(board.switching for board in fast.boards) / sum(board.switching for board in slow.boards)
    assert ratio == pytest.approx(2, rel=0.02)


def test_a_machine_without_a_clock() -> None:
    m = Machine("still", family="HC")
    m.gate("inverter", LOW)
    report = supply(Model(ROOT, m.netlist()))
    assert (report.megahertz, report.activity) == (0.0, "nothing: it has no clock")


def test_the_command() -> None:
    words = [sys.executable, "-m", "latchwork", "supply", str(DUNLIN)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    for caution in ("fused or with a current limit", "hot above about an ampere", "polarity", "licensed people"):
        assert caution in done.stdout
    report = json.loads(subprocess.run([*words, "--json"], capture_output=True, text=True, check=False).stdout)
    assert {"total", "advised", "boards", "chips", "cautions"} <= set(report)


def test_a_board_that_starves_is_a_finding() -> None:
    """Forty LS counters, of 31 mA at most each, on one pair of thin, long wires."""
    m = Machine("hungry", family="HC")
    clock = m.clock(1_000_000)
    for number in range(40):
        m.chip(
            "74LS161", label=f"c{number}", CLK=clock, CLR_n=HIGH, LOAD_n=HIGH, P=[LOW] * 4, ENP=HIGH, ENT=HIGH,
            Q=[OPEN] * 4, RCO=OPEN,
        )  # fmt: skip
    report = supply(Model(ROOT, m.netlist()), Asked(clocks=0, inches=36, gauge=28))
    assert report.below
    assert any("is made for 4.75 V at least" in text for text in report.below)
    assert report.heavy
