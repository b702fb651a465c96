"""Faults of a part with few bits of input and state that no vector can show: under no level of any of them does the
fault change what the part drives, or what it keeps next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from latchwork.analysis.one_part.faults import Fault, slot_of
from latchwork.analysis.one_part.lanes_bench import LanesBench
from latchwork.analysis.one_part.program import Program, Slots, pins_read
from latchwork.logic import Expression
from latchwork.parts import Level, Part

MOST_BITS = 16


def hidden_faults(part: Part, faults: Iterable[Fault]) -> list[Fault]:
    """Those of the faults that surely can't be seen."""
    program = Program(part)
    pins = sorted(pins_read(part, program.slots))
    widths = {name: len(slots) for name, slots in program.state_slots.items()}
    count = len(pins) + sum(widths.values())
    if count > MOST_BITS or part.behaviour.memories:
        return []
    columns = iter(_columns(count))
    levels = {pin: next(columns) for pin in pins}
    states = {name: [next(columns) for _ in range(width)] for name, width in widths.items()}

    def outcome(fault: Fault | None) -> list[int]:
        return list(_outcome(_powered(program, levels, states, fault)))

    sound = outcome(None)
    drives = {pin for drive in part.behaviour.drives for pin in part.ports[drive.port]}
    return [fault for fault in faults if fault.pin not in drives and outcome(fault) == sound]


def _columns(count: int) -> Iterator[int]:
    full = (1 << (1 << count)) - 1
    for bit in range(count):
        yield full ^ full // ((1 << (1 << bit)) + 1)


def _powered(program: Program, levels: dict[int, int], states: dict[str, list[int]], fault: Fault | None) -> LanesBench:
    """Every state with every level in a lane of its own, nets settled and nothing acted yet."""
    count = len(levels) + sum(map(len, states.values()))
    full = (1 << (1 << count)) - 1
    stuck = {slot_of(program, fault): (0, full) if fault.level else (full, 0)} if fault else {}
    return LanesBench(program, full, stuck, states=states, floating=lambda pin: levels.get(pin, 0))


def _outcome(bench: LanesBench) -> Iterator[int]:
    """Everything that the outside or the next round can see."""
    behaviour = bench.program.part.behaviour
    for drive in behaviour.drives:
        on = bench.full if drive.enable is None else _lanes(bench, drive.enable)[0]
        yield on
        yield from (on & bit for bit in _lanes(bench, drive.value))
    for register in behaviour.registers:
        yield from _levels(bench, register.levels)
        for update in register.updates:
            yield from (*_lanes(bench, update.clock), *_lanes(bench, update.data))
    for latch in behaviour.latches:
        yield from _levels(bench, latch.levels)
        free = bench.full & ~_active(bench, latch.levels)
        open_ = _lanes(bench, latch.enable)[0] & free
        yield open_
        yield from (open_ & bit for bit in _lanes(bench, latch.data))


def _active(bench: LanesBench, levels: tuple[Level, ...]) -> int:
    active = 0
    for level in levels:
        active |= _lanes(bench, level.active)[0]
    return active


def _levels(bench: LanesBench, levels: tuple[Level, ...]) -> Iterator[int]:
    """Where a level acts, and what it gives there: the first counts."""
    before = 0
    for level in levels:
        acts = _lanes(bench, level.active)[0] & ~before
        yield from (acts & bit for bit in _lanes(bench, level.value))
        before |= acts
    yield before


def _lanes(bench: LanesBench, expression: Expression) -> list[int]:
    slots: Slots = bench.program.slots[expression]
    return [bench.value(slot) for slot in slots]
