"""Which clocks come often is seen as a machine runs; those are written for their control word, more as they come.

A machine begins in general code. After a while its clocks are looked at one by one for a short time, the ways that it
went are compiled, and from then on it runs in them as long as it can. Where it goes another way, general code goes
with it, and what it finds is compiled with the rest when there is enough of it. None of this changes what happens.
"""

from __future__ import annotations

import ctypes
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

from latchwork.engines.compiled.background import Task
from latchwork.engines.compiled.clock_form import OneClock, WriteStep
from latchwork.engines.compiled.context import OUTSIDE_CELLS
from latchwork.engines.compiled.emit import Buffer
from latchwork.engines.compiled.folding import Fixed
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.program import Plan
from latchwork.engines.compiled.sequencing import sequencing_slots
from latchwork.engines.compiled.shared_cells import SharedCells
from latchwork.engines.compiled.watching import Watch
from latchwork.engines.compiled.ways import Edge, State, Ways
from latchwork.engines.compiled.words import OUTSIDE
from latchwork.model import MicroprogramBinding

Cells = ctypes.Array[ctypes.c_uint64]
MOST = 2000
"""Ways on that are compiled at most."""
BURST = 64
"""Clocks that general code does on its own where there is nothing to be learned, before hot code is tried again."""


@dataclass(frozen=True)
class Heat:
    """When clocks are compiled for their control words, which ``microprogram`` has. ``start``: clocks of general code
    before; ``first``: clocks looked at one by one before ways are compiled, few so that this is soon; ``samples``:
    before more of them are, and then twice as many each time. With ``aside`` it is done beside the run, else in it."""

    microprogram: MicroprogramBinding
    start: int = 100_000
    first: int = 300
    samples: int = 3_000
    aside: bool = True


@dataclass(frozen=True)
class _Ready:
    """Compiled code: where each state is in it, its function, and what it keeps alive."""

    places: Mapping[State, int]
    function: Callable[..., int]
    holds: object


class _Beginning(NamedTuple):
    """``ways``: none where no slot makes a state; ``names``: cells of the slots that do; ``frozen``: what is in
    memories that no clock writes."""

    ways: Ways | None
    names: tuple[int, ...]
    frozen: list[tuple[int, bytes]]


class HotClocks:
    """Of one plan, and of what is watched for in its clocks."""

    def __init__(
        self,
        plan: Plan,
        cells: Cells,
        memories: list[SharedCells],
        buffers: Mapping[str, Buffer],
        *,
        heat: Heat,
        watch: Watch | None = None,
    ) -> None:
        self.plan = plan
        self.cells = cells
        self.memories = memories
        self.buffers = buffers
        self.heat = heat
        self.watch = watch
        self.clocks = 0  # that went by in hot code
        self._general = 0
        self._seen: Counter[Edge] = Counter()
        self._new = 0
        self._enough = min(heat.first, heat.samples)
        self._compiled_ways: frozenset[Edge] = frozenset()
        self._knows_all = False  # nothing new came up for long
        self._ways: Ways | None = None
        self._names: tuple[int, ...] = ()
        self._ready: _Ready | None = None
        self._task: Task[_Ready] | None = None
        self._beginning: Task[_Beginning] | None = None
        self._frozen: list[tuple[int, bytes]] = []
        self._off = False

    # Running

    def run(self, clocks: int) -> int:
        """So many clocks or fewer, in hot code; how many went by."""
        self._collect()
        place = self._ready.places.get(self._state()) if self._ready else None
        if self._ready is None or place is None:
            return 0
        done = int(self._ready.function(ctypes.addressof(self.cells), clocks, place))
        self.clocks += done
        return done

    def piece(self, clocks: int) -> int:
        """How many of so many clocks general code is to do before ``run`` is tried again."""
        if self._off:
            return clocks
        if self._ready is not None:
            return min(clocks, BURST) if self._task or self._knows_all else 1
        if self._samples() and self._begun():
            return 1
        return min(clocks, self.heat.start if self._task or self._samples() else self.heat.start - self._general)

    def _samples(self) -> bool:
        return self._ready is None and self._task is None and self._general >= self.heat.start

    def before(self, piece: int) -> State | None:
        """Where general code begins a piece, if that is looked at."""
        if self._off or self._ways is None or piece != 1 or not (self._ready or self._samples()):
            return None
        return self._state()

    def after(self, before: State | None, clocks: int) -> None:
        """General code did so many clocks from there."""
        self._general += clocks
        if before is None or clocks != 1:
            return
        self._seen[before, self._state()] += 1
        self._new += 1
        if self._new >= self._enough and self._task is None:
            self._knows_all = self._seen.keys() <= self._compiled_ways
            self._new = 0
            if not self._knows_all:
                self._compile()

    def _state(self) -> State:
        cells = self.cells
        return tuple(cells[each] for each in self._names)

    # Compiling

    def _begun(self) -> bool:
        """Whether it is known which slots make a state. If not, it is being found out from here on."""
        if self._ways is not None or self._off:
            return not self._off
        if self._beginning is None:
            self._beginning = Task(lambda wanted: self._begin(), aside=self.heat.aside)
        if not self._beginning.done:
            return False
        found, self._beginning = self._beginning.result(), None
        assert found is not None
        self._ways, self._names, self._frozen = found
        self._off = self._ways is None
        return not self._off

    def _begin(self) -> _Beginning:
        pool = Pool()
        clock = OneClock(self.plan, pool, self.watch)
        form = clock.form()
        wiring = self.plan.layout.wiring
        moving = sequencing_slots(clock, form, self.heat.microprogram)
        if not moving:
            return _Beginning(None, (), [])
        still = [slot for slot in range(len(wiring.slots)) if f"slots.{slot}" not in form.ends]
        moves, slots = ([f"slots.{slot}" for slot in each] for each in (moving, still))
        banks = [f"{OUTSIDE_CELLS[0]}.{bank}" for bank in range(self.plan.shape.outside)]
        stands = (*slots, *banks)
        cells = [name.partition(".") for name in (*moves, *stands)]
        names = tuple(self.plan.shape.cell(region, int(place)) for region, _, place in cells)
        widths = {f"slots.{slot}": wiring.slots[slot].width for slot in (*moving, *still)}
        widths |= dict.fromkeys(banks, OUTSIDE)
        written = {store.memory for step in form.steps if isinstance(step, WriteStep) for store in step.stores}
        fixed, frozen = self._fixed(written)
        return _Beginning(Ways(pool, form, tuple(moves), stands, widths=widths, fixed=fixed), names, frozen)

    def _fixed(self, written: set[str]) -> tuple[Fixed, list[tuple[int, bytes]]]:
        """Memories that no clock writes; they are remembered, so that it is seen if something else does."""
        found: dict[str, Any] = {}
        frozen = []
        for store, memory in enumerate(self.memories):
            if f"memory.{store}" not in written and memory.keeps:
                found[f"memory.{store}"] = memory.values
                found[f"touched.{store}"] = memory.marks
                frozen.append((store, bytes(memory.values)))
        return found, frozen

    def check(self) -> None:
        """Begin anew where a memory that nothing writes was written all the same, by hand."""
        if any(bytes(self.memories[store].values) != held for store, held in self._frozen):
            self.stop()
            self._ways, self._ready, self._names = None, None, ()
            self._seen.clear()
            self._new, self._enough, self._knows_all = 0, min(self.heat.first, self.heat.samples), False

    def _compile(self) -> None:
        edges = [edge for edge, _ in self._seen.most_common(MOST)]
        self._enough = 2 * self._enough if self._ready else self.heat.samples
        self._compiled_ways = frozenset(edges)
        self._task = Task(lambda wanted: self._compiled(edges, wanted), aside=self.heat.aside)
        self._collect()

    def _compiled(self, edges: list[Edge], wanted: Callable[[], bool]) -> _Ready | None:
        """None where nobody waits for it any more."""
        from llvmlite import ir

        from latchwork.engines.compiled.general import General
        from latchwork.engines.compiled.hot import Hot
        from latchwork.engines.compiled.jit import Compiled

        assert self._ways is not None
        module = ir.Module("hot")
        hot = Hot(General(module, self.plan, self.buffers), self._ways, edges)
        if not hot.write("hot", wanted):
            return None
        compiled = Compiled(module)
        return _Ready(hot.places(), compiled.function("hot", 3), compiled)

    def _collect(self) -> None:
        """Take what was compiled meanwhile."""
        if self._task is not None and self._task.done:
            found, self._task = self._task.result(), None
            self._ready = found or self._ready

    def stop(self) -> None:
        """Nobody waits any more for what is being compiled."""
        if self._task is not None:
            self._task.cancel()
        self._task = self._beginning = None
