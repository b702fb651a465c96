"""A machine at rest, carried from the oracle to the cells of compiled code and back.

At rest what the settled round before was is what there is now, so that states, switches, keepers, what probes hold,
and the last values of loops say everything.
"""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Iterable

from latchwork.engines.compiled.context import OUTSIDE_CELLS
from latchwork.engines.compiled.program import Plan
from latchwork.engines.compiled.shared_cells import SharedCells
from latchwork.engines.compiled.words import OUTSIDE
from latchwork.engines.oracle import Oracle
from latchwork.engines.oracle.elements import DelayElement, MemoryElement
from latchwork.engines.oracle.masks import HIGH, LOW, OFF
from latchwork.engines.oracle.nets import Nets

Block = ctypes.Array[ctypes.c_uint64]


def share_memories(oracle: Oracle) -> list[SharedCells]:
    """Put the memories of an oracle where compiled code reaches them."""
    machine, found = oracle._machine, []
    for number, store in enumerate(oracle._wiring.stores):
        shared = SharedCells(machine.cells[number], store.memory)
        machine.cells[number] = shared  # type: ignore[call-overload]
        for before in (each[4][number] for each in machine.before):
            before.now = shared  # type: ignore[attr-defined]
        found.append(shared)
    return found


def is_calm(oracle: Oracle) -> bool:
    """Whether nothing is left over from the last tick: no loop that is held, nothing to be looked at again."""
    nets = oracle._machine.nets
    return not (nets.held or nets.unsettled or nets.released or oracle._rounds.pending)


def to_cells(oracle: Oracle, plan: Plan, cells: Block) -> None:
    """What the oracle has at rest; what rounds remember is not worked out yet."""
    machine, shape = oracle._machine, plan.shape
    nets = machine.nets
    for slot, value in enumerate(machine.bits):
        cells[shape.cell("slots", slot)] = value
    for tie in range(shape.ties):
        cells[shape.cell("ties", tie)] = tie in nets.closed
    for keeper, mask in enumerate(nets.kept):
        cells[shape.cell("kept", keeper)] = mask >> 1 & 1
    for place, net in enumerate(plan.forced):
        cells[shape.cell("forced", place)] = nets.fixed[net] >> 1
    for place, drive in enumerate(plan.loop_drives):
        for side in (0, 1):
            cells[shape.cell("loops", 2 * place + side)] = nets.results[drive][side]
    for place, levels in enumerate(zip(*_banks(oracle._outside.levels()), strict=True)):
        for region, value in zip(OUTSIDE_CELLS, levels, strict=True):
            cells[shape.cell(region, place)] = value
    cells[shape.cell("ticks")], cells[shape.cell("clocks")] = oracle.ticks, oracle.clocks


def _banks(masks: list[int]) -> tuple[list[int], list[int]]:
    """Of drivers of devices: those that are on, by bank, and those of them that are high."""
    on, high = (
        [sum((mask in wanted) << bit for bit, mask in enumerate(masks[at : at + OUTSIDE])) for at in starts]
        for wanted in ((LOW, HIGH), (HIGH,))
        for starts in [range(0, len(masks), OUTSIDE)]
    )
    return on, high


def _masks(plan: Plan, cells: Block, drivers: int) -> list[int]:
    """What each driver of a device gives."""
    found = []
    for driver in range(drivers):
        bank, bit = divmod(driver, OUTSIDE)
        on, high = (cells[plan.shape.cell(region, bank)] >> bit & 1 for region in OUTSIDE_CELLS)
        found.append(OFF if not on else HIGH if high else LOW)
    return found


def to_oracle(oracle: Oracle, plan: Plan, cells: Block, show: Callable[[], object]) -> None:
    """What the cells have at rest. ``show`` fills in what each word carries."""
    machine, shape = oracle._machine, plan.shape
    nets = machine.nets
    for slot in range(shape.slots):
        machine.bits[slot] = cells[shape.cell("slots", slot)]
    nets.closed = {tie for tie in range(shape.ties) if cells[shape.cell("ties", tie)]}
    nets.kept[:] = [LOW + cells[shape.cell("kept", keeper)] for keeper in range(shape.kept)]
    oracle._outside.put_levels(_masks(plan, cells, len(oracle._wiring.outside)))
    show()
    for net in range(len(nets.final)):
        nets.final[net] = mask_of(plan, cells, net)
    _settled(nets)
    machine.remember()
    for stored in machine.cells:
        stored.begin_round()
    _look(oracle)
    oracle.ticks, oracle.clocks = cells[shape.cell("ticks")], cells[shape.cell("clocks")]
    oracle._clock_was = nets.final[oracle.netlist.clock] if oracle.netlist.clock >= 0 else OFF


def _settled(nets: Nets) -> None:
    """Work out what each drive gives from what each net carries."""
    groups = [net for net, group in enumerate(nets.grouping.group) if net == group]
    nets.restore(nets.forced, frozenset(nets.closed), {}, {}, frozenset())
    for net in groups:
        nets._put(net, nets.final[net])
    for number, (call, environment, places) in enumerate(nets._calls):
        nets._applied(number, call(environment, places))
    for net in groups:
        nets.strong[net] = nets._strong(net)
    nets.restore(nets.forced, frozenset(nets.closed), {}, {}, frozenset(nets.suspects))


def mask_of(plan: Plan, cells: Block, net: int) -> int:
    """What a net carries, as the oracle writes it; from what ``show`` filled in."""
    word, bit = plan.layout.place[net]
    if not cells[plan.shape.cell("carried", word)] >> bit & 1:
        return OFF
    return HIGH if cells[plan.shape.cell("bits", word)] >> bit & 1 else LOW


def masks_of(plan: Plan, cells: Block, nets: Iterable[int]) -> list[int]:
    """The same of several nets."""
    place, carried, levels, found = plan.layout.place, plan.shape.start["carried"], plan.shape.start["bits"], []
    for net in nets:
        word, bit = place[net]
        found.append(OFF if not cells[carried + word] >> bit & 1 else HIGH if cells[levels + word] >> bit & 1 else LOW)
    return found


def _look(oracle: Oracle) -> None:
    """Bring up to date what the oracle remembers of the round before."""
    machine = oracle._machine
    for element in oracle._rounds.elements:
        for sense in element.senses:
            sense.was = sense.now = machine.evaluate(sense.bound)
            sense.turns = 0
        if isinstance(element, MemoryElement):
            for port in element.ports:
                port.address_was = machine.evaluate(port.address)
        if isinstance(element, DelayElement):
            element.sent = element.trigger.now
    oracle._rounds.pending.clear()
    oracle._trouble.turning.clear()
    oracle._trouble.fighting = oracle._trouble.fights_now()
