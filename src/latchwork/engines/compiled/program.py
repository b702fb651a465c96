"""What is compiled of a machine: its layout, the sources of a settling in the shared cells, and its counts."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from latchwork.engines.compiled.context import OUTSIDE_CELLS, Shape, fits
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.settling import Levels, Settling, Sources
from latchwork.engines.compiled.stepping import Stepper
from latchwork.engines.compiled.words import OUTSIDE, Layout, laid_out
from latchwork.engines.oracle.grouping import Grouping
from latchwork.engines.oracle.wiring import Wiring
from latchwork.netlist import NetId
from latchwork.parts import OutputKind


@dataclass(frozen=True)
class Plan:
    """One machine with its switches as they are. ``forced``: groups that a probe holds; ``loop_drives``: those
    within loops, which start from what these gave last."""

    layout: Layout
    choice: list[int]
    forced: tuple[NetId, ...]
    loop_drives: tuple[int, ...]
    shape: Shape
    bound: int  # rounds in a tick
    clock_slot: int | None  # of the oscillator that alone makes the main clock


def planned(
    wiring: Wiring,
    grouping: Grouping,
    choice: list[int],
    forced: Collection[NetId],
    *,
    bound: int,
    clock_slot: int | None,
) -> Plan:
    """Raises NotCompilable."""
    for slot in wiring.slots:
        fits(slot.width, f"the state {slot.name}")
    for store in wiring.stores:
        fits(store.memory.width, f"a word of the memory {store.memory.name}")
    layout = laid_out(wiring, grouping, forced)
    held = tuple(sorted(_forced(layout)))
    for word in layout.words:
        fits(word.width, "a bus")
    ranks = [rank for rank, loops in enumerate(grouping.loops) if loops and rank not in layout.cuts]
    looped = sorted(number for rank in ranks for number in grouping.components[rank])
    for number in looped:
        fits(len(wiring.drives[number].outputs), "an output")
    counts = _counts(layout, choice, looped)
    shape = Shape(
        slots=len(wiring.slots),
        ties=len(wiring.ties),
        kept=len(wiring.keepers),
        forced=len(held),
        loops=2 * len(looped),
        senses=counts[0],
        memos=counts[1],
        fights=counts[2],
        words=len(layout.words),
        outside=-(-len(wiring.outside) // OUTSIDE),
    )
    return Plan(layout, choice, held, tuple(looped), shape, bound, clock_slot)


def _counts(layout: Layout, choice: list[int], looped: list[int]) -> tuple[int, int, int]:
    """How many senses, memos and drivers of fights a round has."""
    pool = Pool()
    settling = Settling(layout, pool, choice, cell_sources(layout, pool, looped))
    unknown = pool.variable
    stepper = Stepper(
        settling, lambda n, w: unknown(f"sense.{n}", w), lambda n, w: unknown(f"memo.{n}", w), pool.constant(0)
    )
    for memo in stepper.round.memos:
        fits(memo.width, "a value to be kept")
    return len(stepper.round.senses), len(stepper.round.memos), sum(len(f.drivers) for f in settling.fights())


def cell_sources(layout: Layout, pool: Pool, looped: Collection[int]) -> Sources:
    """A settling that takes everything from the cells, by variables named after them: "slots.3"."""
    place = {drive: index for index, drive in enumerate(looped)}
    forced = {net: index for index, net in enumerate(sorted(_forced(layout)))}

    def loop(drive: int) -> Levels:
        width, at = len(layout.wiring.drives[drive].outputs), 2 * place[drive]
        return pool.variable(f"loops.{at}", width), pool.variable(f"loops.{at + 1}", width)

    return Sources(
        slot=lambda n: pool.variable(f"slots.{n}", layout.wiring.slots[n].width),
        tie=lambda n: pool.variable(f"ties.{n}"),
        kept=lambda n: pool.variable(f"kept.{n}"),
        forced=lambda net: pool.variable(f"forced.{forced[net]}"),
        memory=lambda n: f"memory.{n}",
        touched=lambda n: f"touched.{n}",
        loop=loop,
        outside=lambda *bits: _outside(layout, pool, *bits),
    )


def _outside(layout: Layout, pool: Pool, bank: int, bit: int, width: int) -> Levels:
    """What drivers of devices give: lows and highs."""
    kinds = [each.kind for each in layout.wiring.outside[OUTSIDE * bank + bit :][:width]]
    always = sum((kind is OutputKind.PUSH_PULL) << n for n, kind in enumerate(kinds))
    never_high = sum((kind is OutputKind.OPEN_COLLECTOR) << n for n, kind in enumerate(kinds))
    on, high = (pool.slice(pool.variable(f"{name}.{bank}", OUTSIDE), bit, width) for name in OUTSIDE_CELLS)
    on = pool.either(on, pool.constant(always, width))
    high = pool.both(high, pool.constant(~never_high, width))
    return pool.both(on, pool.invert(high)), pool.both(on, high)


def _forced(layout: Layout) -> set[NetId]:
    return {word.nets[0] for word in layout.words if word.forced}
