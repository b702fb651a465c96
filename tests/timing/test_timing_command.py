"""``latchwork timing`` as a person calls it, and the report behind it on the committed machines."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from latchwork import LOW, Machine
from latchwork.analysis.arrival.loads import Boards, Loads
from latchwork.analysis.arrival.senses import part_arcs
from latchwork.analysis.arrival.times import (
    ASSUMED_DELAY,
    LEAST_OF_TYPICAL,
    OTHER_MOST,
    Corner,
    arc_time,
)
from latchwork.analysis.wiring import Wiring
from latchwork.chips.catalogue import entries, find
from latchwork.load.model import load_model
from latchwork.model import Model
from latchwork.problems import LatchworkError
from latchwork.tools.timing.analysing import Asked
from latchwork.tools.timing.reporting import timing

ROOT = Path(__file__).parents[2]
MACHINES = [
    ROOT / "machines" / "dunlin",
    *(ROOT / "tests" / "machines" / n for n in ("redshank", "whimbrel", "lapwing")),
]


def call(*words: str) -> tuple[int, str, str]:
    done = subprocess.run([sys.executable, "-m", "latchwork", *words], capture_output=True, text=True, check=False)
    return done.returncode, done.stdout, done.stderr


@pytest.fixture(scope="module", params=MACHINES, ids=lambda path: path.name)
def model(request: pytest.FixtureRequest) -> Model:
    return load_model(request.param)


def test_the_way_adds_up(model: Model) -> None:
    """Whatever sets the clock, a reader can add it up from the report alone, to a tenth of a nanosecond an arc."""
    report = timing(model)
    for fastest in (report.plain, report.by_step):
        assert fastest is not None
        limit = fastest.limit
        assert limit is not None
        total = sum(part.adds for part in limit.way)
        assert total == pytest.approx(limit.arrival, abs=0.1 * len(limit.way))
        needs = limit.arrival + limit.needed - limit.clock
        assert needs / (limit.share + limit.earlier) == pytest.approx(limit.period, abs=0.5)
        assert fastest.megahertz == pytest.approx(1000 / fastest.period, rel=1e-3)


def test_no_step_needs_more_than_every_way_together(model: Model) -> None:
    report = timing(model)
    assert report.steps
    assert all(step.period <= report.plain.period + 0.1 for step in report.steps)
    assert report.by_step is not None
    assert max(step.period for step in report.steps) <= report.by_step.period


def test_corners_stand_in_their_order(model: Model) -> None:
    minimum, typical, maximum = timing(model).corners
    assert minimum.plain > typical.plain > maximum.plain
    assert minimum.by_step > typical.by_step > maximum.by_step


def test_heavier_boards_are_slower(model: Model) -> None:
    light, heavy = (timing(model, Asked(boards=Boards(contact=pf))) for pf in (2.0, 25.0))
    assert light.plain.period < heavy.plain.period


def test_clocks_lie_where_machines_of_this_kind_run() -> None:
    """With control ROMs of 150 ns and a control register 0.5 to 5 MHz (common practice)."""
    report = timing(load_model(MACHINES[0]))
    assert report.by_step is not None
    assert 0.5 <= report.plain.megahertz <= report.by_step.megahertz <= 5


def test_dunlin_gains_from_its_microprogram() -> None:
    """The store waits for an address that did not move: by microstep the clock is a third higher at least."""
    report = timing(load_model(MACHINES[0]))
    assert report.by_step is not None
    assert report.by_step.megahertz > 1.33 * report.plain.megahertz


def test_a_faster_memory_gives_a_faster_clock() -> None:
    """Dunlin's ROMs with a third of their access times: each limit that goes through one falls."""
    model = load_model(MACHINES[0])
    parts = tuple(
        replace(part, figures=tuple(
            replace(row, maximum=row.maximum / 3) if row.quantity == "access" and row.maximum else row
            for row in part.figures
        ))
        for part in model.netlist.parts
    )  # fmt: skip
    faster = Model(
        model.folder,
        replace(model.netlist, parts=parts),
        model.statements,
        model.control,
        model.contents,
        model.sources,
    )
    assert timing(faster).plain.period < timing(model).plain.period - 50


def test_a_machine_without_a_clock_is_refused() -> None:
    m = Machine("still", family="HC")
    m.gate("inverter", LOW)
    with pytest.raises(LatchworkError) as caught:
        timing(Model(ROOT, m.netlist()))
    assert str(caught.value) == (
        "R601 still has no main clock to be timed (give it one: m.clock(1_000_000) or m.hand_clock())"
    )


def test_the_command() -> None:
    dunlin = str(MACHINES[0])
    status, out, _ = call("timing", dunlin)
    assert status == 0
    assert "fastest safe clock: " in out
    assert "the oscillator of 1 MHz keeps within it" in out
    status, out, _ = call("timing", dunlin, "--json", "--high", "20")
    report = json.loads(out)
    assert report["high"] == 0.2
    assert report["by_step"]["megahertz"] < 2.5
    assert {"period", "kind", "way"} <= set(report["plain"]["limit"])
    assert len(report["steps"]) > 60
    assert call("timing", dunlin, "--steps")[1].count("` step ") > 60


def test_a_clock_that_is_too_fast_is_a_finding(tmp_path: Path) -> None:
    text = (MACHINES[0] / "machine.py").read_text().replace("m.clock(1_000_000", "m.clock(8_000_000")
    (tmp_path / "machine.py").write_text(text)
    (tmp_path / "dunlin.micro").write_text((MACHINES[0] / "dunlin.micro").read_text())
    status, out, _ = call("timing", str(tmp_path))
    assert status == 1
    assert "the oscillator of 8 MHz is TOO FAST" in out


def test_a_program_is_tried() -> None:
    dunlin, program = str(MACHINES[0]), str(MACHINES[0] / "programs" / "selftest.asm")
    status, out, _ = call("timing", dunlin, "--program", program, "--at", "1", "--clocks", "200")
    assert status == 0
    assert "at 1 MHz ran as it should for 200 clocks" in out
    status, out, _ = call("timing", dunlin, "--program", program, "--at", "9", "--clocks", "200")
    assert status == 1
    assert "at 9 MHz WENT WRONG" in out
    status, _, err = call("timing", dunlin, "--at", "9")
    assert status == 2
    assert "name it with --program" in err


def test_swaps_are_analysed_anew(tmp_path: Path) -> None:
    """The clock that a swap promises is found again on a machine that is drawn with the other part."""
    report = timing(load_model(MACHINES[0]), improve=True)
    assert report.by_step is not None
    clocks = [swap.megahertz for swap in report.swaps]
    assert clocks == sorted(clocks, reverse=True)
    assert min(clocks) > report.by_step.megahertz
    swap = next(swap for swap in report.swaps if swap.label == "memory.address0")
    text = (MACHINES[0] / "machine.py").read_text()
    edited = text.replace('m.chip("283", label="address0"', f'm.chip("{swap.other}", label="address0"')
    assert edited != text
    (tmp_path / "machine.py").write_text(edited)
    (tmp_path / "dunlin.micro").write_text((MACHINES[0] / "dunlin.micro").read_text())
    again = timing(load_model(tmp_path)).by_step
    assert again is not None
    assert again.megahertz == swap.megahertz


# ---- figures


def test_a_read_row_stands_as_it_was_read() -> None:
    """NXP 74HC138/74HCT138 Rev. 4, table 7: 35 ns from an address to an output at 4.5 V, 50 pF, 25 degC, typical 20."""
    part = find("74HCT138")
    arc = next(arc for arc in part_arcs(part) if part.pins[arc.start].name == "A")
    time = arc_time(arc, 1, Corner.MAXIMUM)
    assert (time.picoseconds, time.load, time.origin) == (35_000, 50, "read")
    assert arc_time(arc, 1, Corner.TYPICAL).picoseconds == 20_000


def test_least_figures_that_are_made_up_lie_below_the_published_ones() -> None:
    """Every row of the catalogue with a read least delay has it at more than the stated share of its typical one (or
    of its maximum, brought to typical by the stated ratio)."""
    shares = [
        row.minimum / (row.typical or row.maximum / OTHER_MOST)
        for entry in entries()
        for row in entry.figures
        if row.quantity == "delay" and row.minimum and (row.typical or row.maximum)
    ]
    assert len(shares) >= 5
    assert min(shares) >= LEAST_OF_TYPICAL


def test_assumed_delays_lie_above_most_of_their_family() -> None:
    for family, assumed in ASSUMED_DELAY.items():
        rows = [
            row.maximum
            for entry in entries()
            if entry.name_in(family).startswith("74")
            for row in entry.figures
            if row.family == family and row.quantity == "delay" and row.maximum
        ]
        if len(rows) >= 10:
            assert sum(value <= assumed for value in rows) >= 0.75 * len(rows), family


def test_every_arc_of_the_catalogue_has_a_time_in_order() -> None:
    """No part fails, and the corners of an arc stand in their order: least at most typical at most greatest."""
    count = 0
    for entry in entries():
        for family in entry.families:
            part = find(entry.name_in(family))
            for arc in part_arcs(part):
                for edge in {end for _, end in arc.senses}:
                    least, usual, most = (arc_time(arc, edge, corner).picoseconds for corner in Corner)
                    assert 0 <= least <= usual <= most, (part.name, arc)
                    count += 1
    assert count > 10_000


def test_a_pin_weighs_what_the_sheet_says() -> None:
    """Philips 74HC245/74HCT245 Rev. 03: CI 3.5 pF typical, 10 pF at most. Two pins: one to charge, two contacts and
    wires."""
    m = Machine("two", family="HC")
    a = m.net("a")
    m.gate("inverter", a)
    m.gate("inverter", LOW, out=a)
    loads = Loads(Wiring(m.netlist()), Boards(contact=2, wire=1))
    net = m.netlist().net_named["a"]
    assert loads.picofarads(net, Corner.MAXIMUM) == 10 + 2 * 3
    assert loads.picofarads(net, Corner.TYPICAL) == 3.5 + 2 * 3
