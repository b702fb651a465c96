"""The compiled functions of one plan, with the cells they work on."""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Mapping
from enum import Enum

from latchwork.engines.compiled.background import Task
from latchwork.engines.compiled.clock_form import STARTS
from latchwork.engines.compiled.context import OUTSIDE_CELLS, new_cells
from latchwork.engines.compiled.emit import Buffer
from latchwork.engines.compiled.hot_clocks import Heat, HotClocks
from latchwork.engines.compiled.program import Plan
from latchwork.engines.compiled.shared_cells import SharedCells
from latchwork.engines.compiled.watching import Watch
from latchwork.engines.compiled.words import OUTSIDE
from latchwork.engines.oracle.masks import HIGH, OFF
from latchwork.netlist import NetId

Functions = Mapping[str, Callable[..., int]]


class Unit(Enum):
    """What is compiled at once: ticks, or whole clocks beside them. A watch is a unit as well: whole clocks with it."""

    TICKS = "ticks"
    CLOCKS = "clocks"


class Code:
    """Compiled unit by unit, when first used; with ``aside`` beside the run."""

    def __init__(
        self, plan: Plan, memories: list[SharedCells], heat: Heat | None = None, *, aside: bool = False
    ) -> None:
        self.plan = plan
        self.memories = memories
        self.cells = new_cells(plan.shape)
        self.aside = aside
        self._start = plan.shape.start
        self._address = ctypes.addressof(self.cells)
        self._units: dict[Unit | Watch, Functions] = {}
        self._tasks: dict[Unit | Watch, Task[Functions]] = {}
        self._tables: dict[Watch, ctypes.Array[ctypes.c_uint8]] = {}
        self._heat = heat
        self._hot: dict[Watch | None, HotClocks] = {}

    # Compiling

    @property
    def has_clocks(self) -> bool:
        """Whether whole clocks are compiled."""
        return Unit.CLOCKS in self._units

    @property
    def compiled(self) -> bool:
        return Unit.TICKS in self._units

    def ready(self, unit: Unit | Watch) -> bool:
        """Whether a unit can be used. If it can't, it is being compiled from here on."""
        if unit in self._units:
            return True
        if unit not in self._tasks:
            self._tasks[unit] = Task(lambda wanted: self._compiled(unit), aside=self.aside)
        if not self._tasks[unit].done:
            return False
        functions = self._tasks.pop(unit).result()
        assert functions is not None
        self._units[unit] = functions
        return True

    def _compiled(self, unit: Unit | Watch) -> Functions:
        from llvmlite import ir

        from latchwork.engines.compiled.clocks import Clocks
        from latchwork.engines.compiled.general import General
        from latchwork.engines.compiled.jit import Compiled

        module = ir.Module("ticks" if unit is Unit.TICKS else "clocks")
        if unit is Unit.TICKS:
            General(module, self.plan, self._buffers()).write()
            return Compiled(module).functions(prime=1, tick=1)
        assert self.plan.clock_slot is not None
        watch = unit if isinstance(unit, Watch) else None
        clocks = Clocks(General(module, self.plan, self._buffers(watch)), self.plan.clock_slot, watch)
        if watch is None:
            clocks.write()
        else:
            clocks.write_skipping("run")
        return Compiled(module, self._units[Unit.TICKS]).functions(run=2)

    def skip(self, watch: Watch, clocks: int) -> None:
        """Whole clocks from a falling edge on, up to so many, as long as nothing comes that is watched for."""
        if not self.ready(watch):
            return
        general = self._units[watch]["run"]
        self._whole(watch, clocks, lambda piece: int(general(self._address, piece)))

    def _whole(self, watch: Watch | None, clocks: int, general: Callable[[int], int]) -> None:
        """Whole clocks by hot code, and piece by piece by general code, until this does less than it is asked for."""
        hot = self._hot_clocks(watch)
        if hot is None:
            general(clocks)
            return
        while clocks:
            done = hot.run(clocks)
            if done:
                self.prime()
                clocks -= done
                continue
            piece = hot.piece(clocks)
            before = hot.before(piece)
            done = general(piece)
            hot.after(before, done)
            clocks -= done
            if done < piece:
                return

    def _hot_clocks(self, watch: Watch | None) -> HotClocks | None:
        if self._heat is None:
            return None
        if watch not in self._hot:
            self._hot[watch] = HotClocks(
                self.plan, self.cells, self.memories, self._buffers(watch), heat=self._heat, watch=watch
            )
        return self._hot[watch]

    @property
    def hot_clocks(self) -> int:
        """Clocks that went by in code that was written for their control words."""
        return sum(hot.clocks for hot in self._hot.values())

    def taken(self) -> None:
        """The cells were filled anew; memories may have been written meanwhile."""
        for hot in self._hot.values():
            hot.check()

    def _buffers(self, watch: Watch | None = None) -> dict[str, Buffer]:
        found: dict[str, Buffer] = {}
        if watch is not None:
            if watch not in self._tables:
                self._tables[watch] = (ctypes.c_uint8 * (1 << len(watch.counted))).from_buffer_copy(watch.table())
            found[STARTS] = Buffer(ctypes.addressof(self._tables[watch]), 8)
        for number, memory in enumerate(self.memories):
            found[f"memory.{number}"], found[f"touched.{number}"] = memory.buffers()
        return found

    def _ticks(self, name: str) -> int:
        if not self.compiled and not self.ready(Unit.TICKS):
            raise RuntimeError("it is still being compiled")
        return self._units[Unit.TICKS][name](self._address)

    def prime(self) -> None:
        self._ticks("prime")

    def show(self) -> None:
        """Fill in what each net carries."""
        self._ticks("prime")

    def tick(self) -> int:
        return self._ticks("tick")

    def run(self, clocks: int) -> None:
        """Whole clocks from a falling edge on; a tick that is the oracle's is undone."""
        if self.ready(Unit.CLOCKS):
            self._whole(None, clocks, self._run_general)

    def _run_general(self, clocks: int) -> int:
        """Less than asked for where a timer asked for something, or a tick has to be the oracle's."""
        slot, before = self.plan.clock_slot, self.get("clocks")
        assert slot is not None
        if self._units[Unit.CLOCKS]["run"](self._address, clocks):
            shadow, live = self.plan.shape.cell("shadow"), self.plan.shape.live
            self._put_back(bytes(memoryview(self.cells).cast("B")[8 * shadow : 8 * (shadow + live)]))
            self.set_slot(slot, 1 - self.slot(slot))
        return 0 if self.get("asked") else self.get("clocks") - before

    # Cells

    def get(self, region: str, index: int = 0) -> int:
        return self.cells[self._start[region] + index]

    def set(self, region: str, index: int, value: int) -> None:
        self.cells[self._start[region] + index] = value

    def count(self, region: str) -> int:
        return self.get(region)

    def slot(self, slot: int) -> int:
        return self.get("slots", slot)

    def set_slot(self, slot: int, value: int) -> None:
        self.set("slots", slot, value)

    def drive(self, driver: int, mask: int) -> None:
        """A driver of a device gives a level, or lets go."""
        bank, bit = divmod(driver, OUTSIDE)
        for region, on in zip(OUTSIDE_CELLS, (mask != OFF, mask == HIGH), strict=True):
            held = self.get(region, bank)
            self.set(region, bank, held | 1 << bit if on else held & ~(1 << bit))

    def set_forced(self, groups: Mapping[NetId, int]) -> None:
        for place, net in enumerate(self.plan.forced):
            self.set("forced", place, groups[net])

    def live(self) -> bytes:
        """A copy of all state but the memories."""
        return bytes(memoryview(self.cells).cast("B")[: 8 * self.plan.shape.live])

    def undo(self, before: bytes) -> None:
        """Back to a copy, memories as they were before the last tick."""
        self._put_back(before)

    def put_back(self, live: bytes) -> None:
        """To an earlier moment, memories having been put back already."""
        self.set("undone", 0, 0)
        self._put_back(live)
        self.taken()

    def _put_back(self, before: bytes) -> None:
        for row in reversed(range(self.get("undone"))):
            store, address, value, mark = (self.get("undo", 4 * row + column) for column in range(4))
            self.memories[store].values[address] = value
            self.memories[store].marks[address] = mark
        self.set("undone", 0, 0)
        self.set("asked", 0, 0)
        ctypes.memmove(self.cells, before, len(before))

    def asks(self) -> list[tuple[int, int]]:
        """What timers asked for in the last tick: slot and value, in order."""
        rows = [(self.get("asks", 2 * row), self.get("asks", 2 * row + 1)) for row in range(self.get("asked"))]
        self.set("asked", 0, 0)
        return rows
