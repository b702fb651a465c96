"""The machine with delays, held against the machine without, and against the analysis.

Two programs that share only the times of arcs: what one calls the latest arrival, no event of the other may pass.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from weighed import clocked as analysed
from weighed import row, with_figures

from latchwork import HIGH, LOW, OPEN, Machine
from latchwork.analysis.arrival.clocked import Clocked
from latchwork.analysis.arrival.graph import node
from latchwork.analysis.arrival.loads import Loads
from latchwork.analysis.arrival.times import Corner
from latchwork.analysis.arrival.turnaround import meetings
from latchwork.analysis.levels import set_lanes
from latchwork.analysis.rom_contents import rom_bytes, waking_bytes
from latchwork.engines.delayed import Delayed
from latchwork.engines.delayed.trial import Trial, tried
from latchwork.engines.delayed.trial import at_rest as rested
from latchwork.engines.oracle import Oracle
from latchwork.engines.protocol import Value
from latchwork.load.model import load_model, with_program
from latchwork.model import Model
from latchwork.netlist import Netlist
from latchwork.tools.timing.analysing import Asked, Timing, period_of

ROOT = Path(__file__).parents[2]
DUNLIN = ROOT / "machines" / "dunlin"
SLOW = 20_000_000  # ps: everything settles in half of it, an idle bus too
QUICKEST_PULL = 10  # ps
MACHINES = {
    "dunlin": (DUNLIN, DUNLIN / "programs" / "selftest.asm"),
    "redshank": (ROOT / "tests" / "machines" / "redshank", ROOT / "tests" / "machines" / "redshank" / "multiply.asm"),
    "whimbrel": (ROOT / "tests" / "machines" / "whimbrel", ROOT / "tests" / "machines" / "whimbrel" / "multiply.asm"),
    "lapwing": (ROOT / "tests" / "machines" / "lapwing", ROOT / "tests" / "machines" / "lapwing" / "rounds.asm"),
}


@cache
def timed(name: str) -> Timing:
    folder, program = MACHINES[name]
    return Timing(with_program(load_model(folder), program), Asked())


def contents(model: Model) -> dict[int, bytes]:
    return waking_bytes(model, rom_bytes(model))


def trial(timing: Timing, period: int, clocks: int) -> Trial:
    return tried(timing.plain(Corner.MAXIMUM).graph, contents(timing.model), period, clocks)


def safe_period(timing: Timing) -> int:
    return period_of(timing.by_step(Corner.MAXIMUM) or timing.plain(Corner.MAXIMUM))


@pytest.mark.parametrize("name", MACHINES)
def test_with_time_enough_delays_change_nothing(name: str) -> None:
    """Lockstep with the oracle for hundreds of clocks: every register is right at each."""
    found = trial(timed(name), SLOW, 400)
    assert found == Trial(400, None, None, found.fights)


@pytest.mark.parametrize("name", MACHINES)
def test_every_change_has_an_arc(name: str) -> None:
    """No output ever changes for a reason that the analysis does not know."""
    timing = timed(name)
    machine = at_rest(timing.model)
    delayed = Delayed(timing.plain(Corner.MAXIMUM).graph, machine, SLOW)
    delayed.run(300)
    assert sum(chip.unexplained for chip in delayed.chips) == 0
    assert delayed.clocks == 300


@pytest.mark.parametrize("name", MACHINES)
def test_a_machine_works_at_its_fastest_safe_clock(name: str) -> None:
    timing = timed(name)
    assert trial(timing, safe_period(timing), 1000).well


def test_dunlin_fails_within_a_quarter_above_its_safe_clock() -> None:
    """In the corner analysed, with a program that uses the step which sets the clock."""
    timing = Timing(with_program(load_model(DUNLIN), Path(__file__).parent / "programs" / "slowest.asm"), Asked())
    safe = safe_period(timing)
    assert trial(timing, safe, 600).well
    assert not trial(timing, round(safe / 1.25), 600).well


def at_rest(model: Model) -> Oracle:
    return rested(model.netlist, contents(model))


@pytest.mark.parametrize("name", MACHINES)
def test_no_event_comes_later_than_the_analysis_says(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the plain analysis: the latest arrival at each net and edge, after each edge of the clock. Pulls are taken to
    be quick here: what they do to an idle bus counts by microstep alone."""
    monkeypatch.setattr(Loads, "pulled", lambda *_: 0)
    timing = timed(name)
    clocked = timing.plain(Corner.MAXIMUM)
    latest = [_latest(clocked, edge) for edge in (0, 1)]
    events: list[tuple[int, int, int]] = []
    delayed = Delayed(clocked.graph, at_rest(timing.model), SLOW, on_change=lambda *event: events.append(event))
    delayed.run(1000)
    assert len(events) > 5000
    for time, net, level in events:
        edge, since = (1, time % SLOW) if time % SLOW < SLOW // 2 else (0, time % SLOW - SLOW // 2)
        assert since <= latest[edge].get(node(net, level), -1) + QUICKEST_PULL, (
            timing.netlist.nets[net].name,
            level,
            edge,
            time,
        )


def _latest(clocked: Clocked, edge: int) -> dict[int, int]:
    found: dict[int, int] = {}
    for data in clocked.latest[edge].data.values():
        for place, pieces in enumerate(data):
            for piece in pieces:
                found[place] = max(found.get(place, 0), piece.time)
    return found


@pytest.mark.parametrize("name", MACHINES)
def test_no_settled_level_comes_later_than_its_microstep_says(name: str) -> None:
    """Of the analysis by microstep: the last change of each data pin that a step waits for, against the arrival in the
    lanes whose word is at work. Ways of registers that held count from the clock in which they last could change."""
    timing = timed(name)
    clocked = timing.by_step(Corner.MAXIMUM)
    assert clocked is not None
    watch = {timing.netlist.chips[d.chip].pins[d.pin] for d in clocked.demands.demands}
    last: dict[int, tuple[int, int]] = {}
    delayed = Delayed(
        timing.plain(Corner.MAXIMUM).graph, at_rest(timing.model), SLOW,
        on_change=lambda time, net, level: last.update({net: (time, level)}),
    )  # fmt: skip
    checked = 0
    for clock in range(600):
        delayed.run(1)
        begin, lanes = clock * SLOW, _lanes(timing, delayed)
        assert lanes
        for demand in clocked.demands.demands:
            net = timing.netlist.chips[demand.chip].pins[demand.pin]
            time, level = last.get(net, (-1, 0))
            mask = lanes & demand.mask
            if time >= begin and mask == lanes and net in watch:
                since, checked = time - begin, checked + 1
                assert since <= _bound(clocked, node(net, level), mask), timing.netlist.nets[net].name
    assert checked > 1000


def _lanes(timing: Timing, delayed: Delayed) -> int:
    """The lanes whose word is at work now."""
    words, found = timing.words, 0
    for lane, step in enumerate(timing.steps):
        right = all(_level(delayed, leaf) == step.word >> bit & 1 for leaf, bit in words.word_at.items()
                    if not timing.model.control.dont_care >> bit & 1)  # type: ignore[union-attr]  # fmt: skip
        right &= all(
            _level(delayed, leaf) == step.address >> bit & 1
            for leaf, bit in words.address_at.items()
            if step.known >> bit & 1
        )
        found |= right << lane
    return found


def _level(delayed: Delayed, leaf) -> int:  # type: ignore[no-untyped-def]
    if leaf.kind == "net":
        return delayed.now[leaf.place]
    chip = delayed.chips[leaf.place]
    return chip.states[chip.names.index(leaf.name)] >> leaf.bit & 1


def _bound(clocked: Clocked, place: int, mask: int) -> int:
    """The latest arrival after the beginning of the step, in any lane of the mask."""
    found = -SLOW
    for edge in (0, 1):
        for launch, data in clocked.latest[edge].data.items():
            for piece in data[place]:
                if piece.mask & mask:
                    after = 0 if edge else SLOW // 2
                    found = max(found, piece.time + after - launch.age * SLOW)
    return found


class Meeting(Delayed):
    """Notes how long two chips drive a net together."""

    longest: dict[tuple[int, int, int], int]
    since: dict[tuple[int, int, int], int]

    def _resolve(self, net: int) -> bool:
        on = {output[0] for output in self._on_net[net] if self._outputs[output] >= 0}
        now = {(net, a, b) for a in on for b in on if a != b}
        for key in [key for key in self.since if key[0] == net and key not in now]:
            self.longest[key] = max(self.longest.get(key, 0), self.time - self.since.pop(key))
        for key in now:
            self.since.setdefault(key, self.time)
        return super()._resolve(net)

    def driving(self) -> set[tuple[int, int]]:
        """(net, chip) of every output that is on."""
        return {
            (net, output[0])
            for net, outputs in self._on_net.items()
            for output in outputs
            if self._outputs[output] >= 0
        }


@pytest.mark.parametrize("name", ["redshank", "whimbrel", "lapwing"])
def test_drivers_meet_no_longer_than_the_analysis_says(name: str) -> None:
    """Bus turn-around: of each two chips of which one lets a net go in a clock and the other one takes it. What
    decoders switch on for a moment, while they make up their minds, is no turn-around."""
    timing = timed(name)
    clocked = timing.by_step(Corner.MAXIMUM)
    assert clocked is not None
    bounds = {frozenset((m.outgoing, m.incoming)): 0 for m in meetings(clocked, timing.flow)}
    for meeting in meetings(clocked, timing.flow):
        pair = frozenset((meeting.outgoing, meeting.incoming))
        bounds[pair] = max(bounds[pair], meeting.picoseconds)
    delayed = Meeting(timing.plain(Corner.MAXIMUM).graph, at_rest(timing.model), SLOW)
    delayed.since, met = {}, 0
    for _ in range(600):
        delayed.longest, before = {}, delayed.driving()
        delayed.run(1)
        after = delayed.driving()
        for (net, *pair), time in delayed.longest.items():
            if {(net, pair[0])} <= before - after and {(net, pair[1])} <= after - before:
                met += 1
                assert time <= bounds.get(frozenset(pair), 0), [timing.netlist.chips[chip].reference for chip in pair]
    assert met


def adding(seed: int) -> Netlist:
    """Two shift registers that make numbers by feedback, and an adder of eight bits between them and a register."""
    m = Machine("adding", family="LS")
    clock = m.clock(1_000_000)
    operands = []
    for number, taps in enumerate(((7, 5, 4, 3), (7, 6, 5, 0))):
        q = m.bus(f"q{number}", 8)
        back = m.gate("xor", m.gate("xor", q[taps[0]], q[taps[1]]), m.gate("xor", q[taps[2]], q[taps[3]]))
        m.chip("164", label=f"shift{number}", CLK=clock, CLR_n=HIGH, A=m.gate("inverter", back), B=HIGH, Q=q)
        operands.append(q)
    total = m.bus("total", 8)
    low = m.chip("283", A=operands[0][0:4], B=operands[1][0:4], C0=LOW, S=total[0:4])
    m.chip("283", A=operands[0][4:8], B=operands[1][4:8], C0=low.C4, S=total[4:8], C4=OPEN)
    m.chip("377", CLK=clock, G_n=LOW, D=total, Q=[OPEN] * 8)
    pins = [name + digit for name in "AB" for digit in "1234"] + ["C0"]
    figures = {
        "74LS164": (row("LS", "delay", "CLK", "Q", maximum=17),),
        "74LS283": (
            *(row("LS", "delay", pin, "S", maximum=24 + seed) for pin in pins),
            *(row("LS", "delay", pin, "C4", maximum=17 + seed) for pin in pins),
        ),
    }
    return with_figures(m, figures)


@pytest.mark.parametrize("seed", range(3))
def test_on_an_adder_the_bound_is_reached(seed: int) -> None:
    """Fairchild DM74LS283 p. 3 (24 ns to a sum, 17 ns to the carry) and two more: in 1,000 vectors the latest event at
    the sum comes within 15 % of the analysed arrival, and never after it."""
    netlist = adding(seed)
    found = analysed(netlist)
    machine = rested(netlist, {})
    sums = {netlist.net_named[f"total[{bit}]"] for bit in range(8)}
    latest = 0

    def note(time: int, net: int, _: int) -> None:
        nonlocal latest
        if net in sums:
            latest = max(latest, time % SLOW)

    Delayed(found.graph, machine, SLOW, on_change=note).run(1000)
    bound = max(_latest(found, 1)[node(net, edge)] for net in sums for edge in (0, 1))
    assert 0.85 * bound <= latest <= bound


def test_a_register_takes_what_stood_a_setup_time_before() -> None:
    """Data that come 1 ns too late are not taken, and are reported."""
    m = Machine("late", family="LS")
    clock = m.clock(1_000_000)
    q, back = m.net("q"), m.net("back")
    m.gate("inverter", q, out=back)
    m.chip("175", CLK=clock, CLR_n=HIGH, D=[back, LOW, LOW, LOW], Q=[q, OPEN, OPEN, OPEN], Q_n=[OPEN] * 4)
    figures = {
        "74LS175": (row("LS", "delay", "CLK", "Q", maximum=10), row("LS", "setup", "D", "CLK", minimum=5)),
        "74LS04": (row("LS", "delay", "A", "Y", maximum=15),),
    }
    netlist = with_figures(m, figures)
    graph = analysed(netlist).graph
    assert tried(graph, {}, 30_000, 50).well
    late = tried(graph, {}, 29_999, 50)
    assert late.late is not None
    assert (late.late.clock, late.late.what) == (2, "held")
    assert tried(graph, {}, 24_000, 50).unlike is not None


def test_what_comes_after_the_strobe_is_not_written() -> None:
    """A memory that is written by a level, with the address of the moment before: wrong cells get the data too."""
    timing = timed("dunlin")
    found = trial(timing, 150_000, 500)
    assert not found.well
    assert found.clocks < 20


def test_a_net_that_nobody_drives_keeps_its_level_until_its_pull_wins() -> None:
    """10 kilohm on Dunlin's data bus: the bus is high again only after about 0.7 R C."""
    timing = timed("dunlin")
    graph = timing.plain(Corner.MAXIMUM).graph
    net = timing.netlist.net_named["data[0]"]
    delay = graph.loads.pulled(net, 1, Corner.MAXIMUM)
    assert delay == pytest.approx(0.7 * 10_000 * graph.loads.picofarads(net, Corner.MAXIMUM), abs=1)
    assert graph.loads.pulled(timing.netlist.net_named["clock"], 1, Corner.MAXIMUM) == 0


def test_the_beginning_is_a_machine_at_rest() -> None:
    """All nets as the oracle left them, and nothing moves until the clock does."""
    timing = timed("dunlin")
    machine = at_rest(timing.model)
    events: list[object] = []
    delayed = Delayed(timing.plain(Corner.MAXIMUM).graph, machine, SLOW, on_change=lambda *e: events.append(e))
    assert [level for net, level in enumerate(delayed.now[:-1])] == [
        int(machine.value(net) is Value.HIGH) for net in range(len(timing.netlist.nets))
    ]
    delayed.run(0)
    assert not events


def test_lanes_of_steps_are_found() -> None:
    """The helper of this file finds the step that the microprogram is in: the rows of the lane hold the word."""
    timing = timed("dunlin")
    delayed = Delayed(timing.plain(Corner.MAXIMUM).graph, at_rest(timing.model), SLOW)
    seen = set()
    for _ in range(50):
        delayed.run(1)
        lanes = set_lanes(_lanes(timing, delayed))
        assert 1 <= len(lanes) <= 2
        seen.add(lanes[0])
    assert len(seen) > 4
