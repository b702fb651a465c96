"""Machines in lanes against the definition of a fault: the oracle on the edited netlist, tick by tick."""

from __future__ import annotations

import os
from collections import Counter
from random import Random

import pytest
import small_parts as parts
from building import Builder
from lane_netlists import KINDS, mixed_faults, onward_netlist
from random_netlists import contents_for, random_netlist

from latchwork.engines.compiled.errors import NotCompilable
from latchwork.engines.compiled.lanes import building
from latchwork.engines.compiled.lanes.machines import HEALTHY, FaultyMachines
from latchwork.engines.oracle import Oracle
from latchwork.netlist import Netlist, edits
from latchwork.netlist.netlist import PinRef

COUNT = int(os.environ.get("LATCHWORK_NETLISTS", "50"))
FAULTS, TICKS = 12, 24
SIZES = range(6, 36)
BATCH = 10


def compared(netlist: Netlist, faults: list[tuple[str, Netlist]], seed: int, ticks: int = TICKS) -> FaultyMachines:
    """All nets and states of all machines after every tick. AssertionError where one differs from its oracle."""
    contents = contents_for(netlist)
    nets = range(len(netlist.nets))
    machines = FaultyMachines(netlist, [faulty for _, faulty in faults], contents, seed, watch=nets)
    singles = [Oracle(each, contents, seed) for each in (netlist, *(faulty for _, faulty in faults))]
    first: dict[int, int] = {}
    for tick in range(ticks):
        if tick:
            went = machines.run(1)
            assert {single.tick() for single in singles} == {bool(went)}
            if not went:
                break
        for number, single in enumerate(singles, HEALTHY):
            place = f"seed {seed}, tick {tick}, {'no fault' if number < 0 else faults[number][0]} ({number})"
            differing = {
                netlist.nets[net].name: (own.name, lane.name)
                for net in nets
                if (own := single.value(net)) is not (lane := machines.value(number, net))
            }
            assert differing == {}, f"{place}: oracle and lane differ: {differing}"
            if number != HEALTHY and _differs(machines, number, singles):
                first.setdefault(number, tick)
    for number, single in enumerate(singles, HEALTHY):
        _compare_states(machines, number, single)
    assert {number: machines.first_difference(number) for number in range(len(faults))} == {
        number: first.get(number) for number in range(len(faults))
    }
    return machines


def _differs(machines: FaultyMachines, number: int, singles: list[Oracle]) -> bool:
    """Whether a net shows the fault; one that a bridge took along is looked at where it went."""
    moved, difference = machines._builder.moved, machines._difference(number)
    healthy, faulty = singles[0], singles[number + 1]
    return any(
        healthy.value(net) is not faulty.value(moved(net, difference)) for net in range(len(healthy.netlist.nets))
    )


def _compare_states(machines: FaultyMachines, number: int, single: Oracle) -> None:
    for chip in range(len(single.netlist.chips)):
        behaviour = single.netlist.part_of(chip).behaviour
        for state in (*behaviour.registers, *behaviour.latches):
            assert machines.state(number, chip, state.name) == single.state(chip, state.name), (number, chip)
        for memory in behaviour.memories:
            cells = range(1 << memory.address_width)
            lane = [machines.cell(number, chip, at, memory.name) for at in cells]
            assert lane == list(single.memory(chip, memory.name)), (number, chip)


@pytest.mark.parametrize("start", range(0, COUNT, BATCH))
def test_each_fault_is_its_edit(start: int) -> None:
    lanes = faults = 0
    kinds: Counter[str] = Counter()
    for number in range(start, min(start + BATCH, COUNT)):
        netlist = onward_netlist(number, SIZES[number % len(SIZES)])
        mixed = mixed_faults(netlist, FAULTS, Random(number))
        machines = compared(netlist, mixed, number)
        kinds.update(kind for each, (kind, _) in enumerate(mixed) if each not in machines.alone)
        faults, lanes = faults + len(mixed), lanes + len(mixed) - len(set(machines.alone) - {HEALTHY})
    assert set(kinds) == set(KINDS), "a kind of fault was never a lane"
    assert lanes > 0.7 * faults, "too many machines had an engine of their own to say anything of lanes"


def test_what_stays_open_has_an_engine_of_its_own() -> None:
    """Real loops: gates across each other, rings."""
    alone = 0
    for number in range(40):
        netlist = random_netlist(number, 8)
        if any(timer.trigger for chip in range(len(netlist.chips)) for timer in netlist.part_of(chip).behaviour.timers):
            continue
        alone += len(compared(netlist, mixed_faults(netlist, 6, Random(number)), number).alone)
    assert alone


def test_a_memory_without_room_for_all_lanes_is_left_by_those_that_write(monkeypatch: pytest.MonkeyPatch) -> None:
    b = Builder(clock="clk")
    b.add("crystal oscillator", parameters={"period": 1000}, OUT="clk")
    b.add(parts.LEVEL_RAM, A=["low", "low", "low"], D=["clk", "low"], W="never", O="low")
    b.add(parts.AND, A="low", B="clk", Y="never")
    netlist = b.netlist()
    writes = edits.stuck(netlist, PinRef(1, netlist.parts[1].pin_index["W"]), 1)
    monkeypatch.setattr(building, "OWN_LIMIT", 0)
    machines = FaultyMachines(netlist, [writes, edits.stuck(netlist, PinRef(2, 0), 0)], {}, 3)
    machines.run(6)
    assert list(machines.alone) == [0]
    single = Oracle(writes, {}, 3)
    for _ in range(6):
        single.tick()
    assert machines.cell(0, 1, 0) == single.cell(1, 0)


def shift_register() -> Netlist:
    """Two flip-flops after one another, at a hand clock."""
    b = Builder(clock="clk")
    b.add("hand clock", OUT="clk")
    b.add(parts.FLIP_FLOP, C="clk", D="high", R="low", S="low", Q="one")
    b.add(parts.FLIP_FLOP, C="clk", D="one", R="low", S="low", Q="two")
    return b.netlist()


def test_a_hand_works_all_machines() -> None:
    netlist = shift_register()
    cut = edits.opened(netlist, PinRef(2, netlist.part_of(2).pin_index["C"]))
    two = netlist.net_named["two"]
    machines = FaultyMachines(netlist, [cut], {}, 1, watch=[two])
    single = Oracle(cut, {}, 1)
    for level in (1, 0) * 3:
        machines.set_hand(0, level)
        single.set_hand(0, level)
        assert machines.value(0, two) is single.value(two)
    assert machines.ticks == 6
    with pytest.raises(KeyError):
        machines.set_hand(1, 1)


def test_a_timer_that_a_net_starts_is_not_for_lanes() -> None:
    b = Builder()
    b.add("pulse", parameters={"width": 1000}, IN="low", OUT="x")
    with pytest.raises(NotCompilable, match="pulse"):
        FaultyMachines(b.netlist(), [])


def test_a_fault_is_an_edit_of_the_machine() -> None:
    with pytest.raises(ValueError, match="chips and nets"):
        FaultyMachines(shift_register(), [onward_netlist(1)])


def test_machines_that_differ_go_no_further_and_the_others_close_up() -> None:
    """What is found is the same with and without dropping, whichever block a machine came to lie in."""
    netlist = onward_netlist(5, 30)
    faults = [faulty for _, faulty in mixed_faults(netlist, 700, Random(5))]
    watch = list(range(0, len(netlist.nets), 9))
    kept = FaultyMachines(netlist, faults, contents_for(netlist), 5, watch=watch)
    dropped = FaultyMachines(netlist, faults, contents_for(netlist), 5, watch=watch, drop=True)
    for machines in (kept, dropped):
        machines.run(300)
        machines.run(400)
    first = [kept.first_difference(number) for number in range(len(faults))]
    assert [dropped.first_difference(number) for number in range(len(faults))] == first
    assert None in first
    assert any(tick for tick in first)
    assert kept.machine_ticks == 700 * kept.ticks
    assert dropped.machine_ticks == sum(kept.ticks if tick is None else tick for tick in first)
    gone = next(number for number, tick in enumerate(first) if tick is not None and number not in dropped.alone)
    with pytest.raises(KeyError, match="no further"):
        dropped.value(gone, watch[0])


def test_a_bridged_net_is_looked_at_where_it_went() -> None:
    """Two nets that always carry the same do not differ when they touch, though one of them has no pins any more."""
    b = Builder(clock="clk")
    b.add("crystal oscillator", parameters={"period": 1000}, OUT="clk")
    b.add(parts.NOT, A="clk", Y="one")
    b.add(parts.NOT, A="clk", Y="two")
    netlist = b.netlist()
    one, two = netlist.net_named["one"], netlist.net_named["two"]
    machines = FaultyMachines(
        netlist, [edits.bridged(netlist, one, two), edits.stuck(netlist, two, 1)], watch=[one, two]
    )
    machines.run(5)
    assert [machines.first_difference(number) for number in (0, 1)] == [None, 1]
