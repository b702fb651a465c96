"""The compiled functions of one plan, with the cells they work on."""

from __future__ import annotations

import ctypes
from collections.abc import Callable, Mapping
from typing import Any

from latchwork.engines.compiled.clock_form import STARTS
from latchwork.engines.compiled.context import new_cells
from latchwork.engines.compiled.emit import Buffer
from latchwork.engines.compiled.hot_clocks import Heat, HotClocks
from latchwork.engines.compiled.program import Plan
from latchwork.engines.compiled.shared_cells import SharedCells
from latchwork.engines.compiled.watching import Watch
from latchwork.netlist import NetId


class Code:
    """Compiled when first used."""

    def __init__(self, plan: Plan, memories: list[SharedCells], heat: Heat | None = None) -> None:
        self.plan = plan
        self.memories = memories
        self.cells = new_cells(plan.shape)
        self._address = ctypes.addressof(self.cells)
        self._functions: dict[str, Any] = {}
        self._module: Any = None
        self._skipping: dict[Watch, Callable[..., int]] = {}
        self._tables: dict[Watch, ctypes.Array[ctypes.c_uint8]] = {}
        self._heat = heat
        self._hot: dict[Watch | None, HotClocks] = {}

    @property
    def has_clocks(self) -> bool:
        """Whether whole clocks are compiled."""
        return "run" in self._functions

    @property
    def compiled(self) -> bool:
        return self._module is not None

    def _call(self, name: str, *arguments: int) -> int:
        if name not in self._functions:
            self._functions[name] = self._built(name).function(name, 1 + len(arguments))
        return int(self._functions[name](self._address, *arguments))

    def _built(self, name: str) -> Any:
        """The compiled module, with the function in it: general code first, whole clocks when they are wanted."""
        from llvmlite import ir

        from latchwork.engines.compiled.clocks import Clocks
        from latchwork.engines.compiled.general import General
        from latchwork.engines.compiled.jit import Compiled

        if self._module is None:
            module = ir.Module("general")
            General(module, self.plan, self._buffers()).write()
            self._module = Compiled(module)
        if name in ("fast", "run"):
            assert self.plan.clock_slot is not None
            module = ir.Module("clocks")
            Clocks(General(module, self.plan, self._buffers()), self.plan.clock_slot).write()
            self._module.add(module)
        return self._module

    def skip(self, watch: Watch, clocks: int) -> None:
        """Whole clocks from a falling edge on, up to so many, as long as nothing comes that is watched for."""
        if watch not in self._skipping:
            self._skipping[watch] = self._skips(watch, f"skip{len(self._skipping)}")
        general = self._skipping[watch]
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

    def _skips(self, watch: Watch, name: str) -> Callable[..., int]:
        from llvmlite import ir

        from latchwork.engines.compiled.clocks import Clocks
        from latchwork.engines.compiled.general import General

        self.prime()
        assert self.plan.clock_slot is not None
        module = ir.Module(name)
        Clocks(General(module, self.plan, self._buffers(watch)), self.plan.clock_slot, watch).write_skipping(name)
        self._module.add(module)
        found: Callable[..., int] = self._module.function(name, 2)
        return found

    def _buffers(self, watch: Watch | None = None) -> dict[str, Buffer]:
        found: dict[str, Buffer] = {}
        if watch is not None:
            if watch not in self._tables:
                self._tables[watch] = (ctypes.c_uint8 * (1 << len(watch.counted))).from_buffer_copy(watch.table())
            found[STARTS] = Buffer(ctypes.addressof(self._tables[watch]), 8)
        for number, memory in enumerate(self.memories):
            found[f"memory.{number}"], found[f"touched.{number}"] = memory.buffers()
        return found

    def prime(self) -> None:
        self._call("prime")

    def show(self) -> None:
        """Fill in what each net carries."""
        self._call("prime")

    def tick(self) -> int:
        return self._call("tick")

    def run(self, clocks: int) -> None:
        """Whole clocks from a falling edge on; a tick that is the oracle's is undone."""
        self._whole(None, clocks, self._run_general)

    def _run_general(self, clocks: int) -> int:
        """Less than asked for where a timer asked for something, or a tick has to be the oracle's."""
        slot, before = self.plan.clock_slot, self.get("clocks")
        assert slot is not None
        if self._call("run", clocks):
            shadow, live = self.plan.shape.cell("shadow"), self.plan.shape.live
            self._put_back(bytes(memoryview(self.cells).cast("B")[8 * shadow : 8 * (shadow + live)]))
            self.set_slot(slot, 1 - self.slot(slot))
        return 0 if self.get("asked") else self.get("clocks") - before

    # Cells

    def get(self, region: str, index: int = 0) -> int:
        return self.cells[self.plan.shape.cell(region, index)]

    def set(self, region: str, index: int, value: int) -> None:
        self.cells[self.plan.shape.cell(region, index)] = value

    def count(self, region: str) -> int:
        return self.get(region)

    def slot(self, slot: int) -> int:
        return self.get("slots", slot)

    def set_slot(self, slot: int, value: int) -> None:
        self.set("slots", slot, value)

    def set_forced(self, groups: Mapping[NetId, int]) -> None:
        for place, net in enumerate(self.plan.forced):
            self.set("forced", place, groups[net])

    def live(self) -> bytes:
        """A copy of all state but the memories."""
        return bytes(memoryview(self.cells).cast("B")[: 8 * self.plan.shape.live])

    def undo(self, before: bytes) -> None:
        """Back to a copy, memories as they were before the last tick."""
        self._put_back(before)

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
