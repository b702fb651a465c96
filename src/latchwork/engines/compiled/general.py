"""General code: one tick, whatever happens in it, with all that rounds remember kept in the cells.

``prime`` works out, for a machine at rest, everything that is remembered and what each net carries; ``tick`` settles
after something changed. A tick returns 1, and is to be undone, where the oracle has to look at it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.context import ASK_ROWS, UNDO_ROWS
from latchwork.engines.compiled.emit import CELL, POINTER, Buffer, Emitter, bits
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.program import Plan, cell_sources
from latchwork.engines.compiled.settling import Settling
from latchwork.engines.compiled.stepping import Round, Stepper, StoreWrite
from latchwork.netlist.netlist import NO_NET


class General:
    """Writes the general functions of one plan into a module."""

    def __init__(self, module: ir.Module, plan: Plan, buffers: Mapping[str, Buffer]) -> None:
        self.module = module
        self.plan = plan
        self.shape = plan.shape
        self.buffers = buffers
        self.pool = Pool()

    def write(self) -> None:
        self._prime()
        self._tick()

    def function(self, name: str, *more: ir.Type) -> tuple[ir.Function, ir.IRBuilder]:
        function = ir.Function(self.module, ir.FunctionType(CELL, [POINTER, *more]), name)
        function.args[0].add_attribute("noalias")
        self.cells = function.args[0]
        return function, ir.IRBuilder(function.append_basic_block("entry"))

    def pointer(self, b: ir.IRBuilder, index: int) -> Any:
        return b.gep(self.cells, [CELL(index)], source_etype=CELL)

    def load(self, b: ir.IRBuilder, name: str, width: int) -> Any:
        """A variable such as "slots.3", from its cell."""
        region, _, index = name.partition(".")
        cell = b.load(self.pointer(b, self.shape.cell(region, int(index))), typ=CELL)
        return b.trunc(cell, bits(width)) if width < 64 else cell

    def store(self, b: ir.IRBuilder, region: str, index: int, value: Any) -> None:
        wide = b.zext(value, CELL) if value.type.width < 64 else value
        b.store(wide, self.pointer(b, self.shape.cell(region, index)))

    def _settled(self, b: ir.IRBuilder, derived: Any = None) -> tuple[Emitter, Settling, Round]:
        """A settling and a round of it, its loops written."""
        emitter = Emitter(self.pool, b, self.load, self.buffers)
        variable = self.pool.variable
        settling = Settling(
            self.plan.layout,
            self.pool,
            self.plan.choice,
            cell_sources(self.plan.layout, self.pool, self.plan.loop_drives),
        )
        derives = self.pool.constant(0) if derived is None else variable("derived")
        if derived is not None:
            emitter.bind("derived", derived)
        stepper = Stepper(
            settling, lambda n, w: variable(f"senses.{n}", w), lambda n, w: variable(f"memos.{n}", w), derives
        )
        for loop in settling.loops:
            emitter.loop(loop)
        return emitter, settling, stepper.round

    def _prime(self) -> None:
        _, b = self.function("prime")
        emitter, settling, step = self._settled(b)
        values = self._remembered(emitter, settling, step)
        values += [("fights", n, v) for n, v in enumerate(self._drivers(emitter, settling))]
        for number in range(len(self.plan.layout.words)):
            levels = zip(("bits", "carried"), settling.levels(number), strict=True)
            values += [(region, number, emitter.value(level)) for region, level in levels]
        for region, index, value in values:
            self.store(b, region, index, value)
        self.store(b, "clock", 0, self._clock(emitter, settling))
        b.ret(CELL(0))

    def _remembered(self, emitter: Emitter, settling: Settling, step: Round) -> list[tuple[str, int, Any]]:
        """What a round leaves behind for the next."""
        found = [("senses", n, emitter.value(each)) for n, each in enumerate(step.senses)]
        found += [("memos", n, emitter.value(each)) for n, each in enumerate(step.memos)]
        keepers = range(len(self.plan.layout.wiring.keepers))
        found += [("kept", n, emitter.value(settling.after_keeping(n))) for n in keepers]
        for place, drive in enumerate(self.plan.loop_drives):
            for side, level in enumerate(settling.drive(drive)):
                found.append(("loops", 2 * place + side, emitter.value(level)))
        return found

    @staticmethod
    def _drivers(emitter: Emitter, settling: Settling) -> list[Any]:
        return [emitter.value(driver) for fight in settling.fights() for driver in fight.drivers]

    def _clock(self, emitter: Emitter, settling: Settling) -> Any:
        """The main clock as a mask: 1 low, 2 high, 4 nothing."""
        net = settling.layout.wiring.netlist.clock
        if net == NO_NET:
            return CELL(4)
        bit, carried = (emitter.value(each) for each in settling.net(net))
        b = emitter.builder
        return b.select(carried, b.select(bit, CELL(2), CELL(1)), CELL(4))

    # A tick

    def _tick(self) -> None:
        function, b = self.function("tick")
        self._begin(b)
        entry, self.round = b.block, function.append_basic_block("round")
        self.failed = function.append_basic_block("failed")
        b.branch(self.round)
        b.position_at_end(self.round)
        count = b.phi(CELL)
        count.add_incoming(CELL(0), entry)
        emitter, settling, step = self._settled(b, b.icmp_unsigned("!=", count, CELL(0)))
        self._round(emitter, settling, step, count)
        ir.IRBuilder(self.failed).ret(CELL(1))

    def _begin(self, b: ir.IRBuilder) -> None:
        """Keep a copy of what may have to be put back."""
        shape = self.shape
        copy = self.module.declare_intrinsic("llvm.memcpy", [POINTER, POINTER, CELL])
        clear = self.module.declare_intrinsic("llvm.memset", [POINTER, CELL])
        no = bits(1)(0)
        b.call(copy, [self.pointer(b, shape.cell("shadow")), self.pointer(b, 0), CELL(8 * shape.live), no])
        b.call(clear, [self.pointer(b, shape.cell("turned")), bits(8)(0), CELL(8 * shape.senses), no])
        self.store(b, "undone", 0, CELL(0))
        self.store(b, "asked", 0, CELL(0))

    def _round(self, emitter: Emitter, settling: Settling, step: Round, count: Any) -> None:
        b, pool = emitter.builder, self.pool
        turns = [pool.differ(now, pool.variable(f"senses.{n}")) for n, now in enumerate(step.senses)]
        turned = [pool.variable(f"turned.{n}") for n in range(len(turns))]
        short = [pool.both(turn, earlier) for turn, earlier in zip(turns, turned, strict=True)]
        trouble = emitter.any_of([*step.troubles, *short])
        for each in emitter.troubles:
            trouble = b.or_(trouble, each)
        trouble = b.or_(trouble, self._full(b, step))
        later = [("turned", n, emitter.value(pool.either(*p))) for n, p in enumerate(zip(turns, turned, strict=True))]
        later += self._remembered(emitter, settling, step)
        moved = emitter.any_of(self._changes(step))
        later += [("slots", slot, emitter.value(value)) for slot, value in step.slots.items()]
        at_rest = self._at_rest(emitter, settling)
        writes = [self._write_values(emitter, write) for write in step.writes]
        asks = [(ask.slot, emitter.value(ask.when), emitter.value(ask.value)) for ask in step.asks]
        apply_ = b.append_basic_block("apply")
        b.cbranch(trouble, self.failed, apply_)
        b.position_at_end(apply_)
        for region, index, value in later:
            self.store(b, region, index, value)
        for ask in asks:
            self._ask(b, *ask)
        for write, values in zip(step.writes, writes, strict=True):
            moved = b.or_(moved, self._write(emitter, write, *values))
        self._next(b, moved, count, at_rest)

    def _changes(self, step: Round) -> list[Any]:
        source = cell_sources(self.plan.layout, self.pool, self.plan.loop_drives).slot
        return [self.pool.unequal(value, source(slot)) for slot, value in step.slots.items()]

    def _next(self, b: ir.IRBuilder, moved: Any, count: Any, at_rest: tuple[Any, list[Any], Any]) -> None:
        """Another round, or the end of the tick."""
        again, rest, over = (b.append_basic_block(name) for name in ("again", "rest", "over"))
        b.cbranch(moved, again, rest)
        b.position_at_end(again)
        following = b.add(count, CELL(1))
        count.add_incoming(following, again)
        b.cbranch(b.icmp_unsigned("<", following, CELL(self.plan.bound)), self.round, self.failed)
        b.position_at_end(rest)
        fights, drivers, clock = at_rest
        b.cbranch(fights, self.failed, over)
        b.position_at_end(over)
        for number, driver in enumerate(drivers):
            self.store(b, "fights", number, driver)
        self._count(b, clock)
        b.ret(CELL(0))

    def _count(self, b: ir.IRBuilder, clock: Any) -> None:
        was = self.load(b, "clock.0", 64)
        rose = b.and_(b.icmp_unsigned("==", was, CELL(1)), b.icmp_unsigned("==", clock, CELL(2)))
        self.store(b, "clocks", 0, b.add(self.load(b, "clocks.0", 64), b.zext(rose, CELL)))
        self.store(b, "clock", 0, clock)
        self.store(b, "ticks", 0, b.add(self.load(b, "ticks.0", 64), CELL(1)))

    def _at_rest(self, emitter: Emitter, settling: Settling) -> tuple[Any, list[Any], Any]:
        """Whether a fight began that was not there before, who fights, and the clock, if the tick ends here."""
        pool, number, news = self.pool, 0, []
        for fight in settling.fights():
            for driver in fight.drivers:
                changed = pool.differ(driver, pool.variable(f"fights.{number}", driver.width))
                news.append(pool.any_bit(pool.both(fight.bits, changed)))
                number += 1
        return emitter.any_of(news), self._drivers(emitter, settling), self._clock(emitter, settling)

    def _full(self, b: ir.IRBuilder, step: Round) -> Any:
        """Whether this round may not find room for what it would note down."""
        undone, asked = self.load(b, "undone.0", 64), self.load(b, "asked.0", 64)
        writes, asks = CELL(max(UNDO_ROWS - len(step.writes), 0)), CELL(max(ASK_ROWS - len(step.asks), 0))
        return b.or_(b.icmp_unsigned(">", undone, writes), b.icmp_unsigned(">", asked, asks))

    def _ask(self, b: ir.IRBuilder, slot: int, when: Any, value: Any) -> None:
        count = self.load(b, "asked.0", 64)
        row = b.add(b.mul(count, CELL(2)), CELL(self.shape.cell("asks")))
        for column, each in enumerate((CELL(slot), b.zext(value, CELL))):
            b.store(each, b.gep(self.cells, [b.add(row, CELL(column))], source_etype=CELL))
        self.store(b, "asked", 0, b.add(count, b.zext(when, CELL)))

    @staticmethod
    def _write_values(emitter: Emitter, write: StoreWrite) -> tuple[Any, Any, Any]:
        return emitter.value(write.when), emitter.value(write.address), emitter.value(write.data)

    def _write(self, emitter: Emitter, write: StoreWrite, when: Any, address: Any, data: Any) -> Any:
        """Write to a memory, what was there being noted down; whether that changed it."""
        b, memory, known = emitter.builder, f"memory.{write.store}", f"touched.{write.store}"
        before, do, done = b.block, b.append_basic_block("write"), b.append_basic_block("written")
        b.cbranch(when, do, done)
        b.position_at_end(do)
        keeps = self.plan.layout.wiring.stores[write.store].memory.keeps
        old = emitter.read(memory, address, data.type.width)
        touched = bits(8)(1) if keeps else emitter.read(known, address, 8)
        self._note(b, write.store, address, old, touched)
        changed = b.icmp_unsigned("!=", old, data)
        emitter.write(memory, address, data)
        if not keeps:
            changed = b.or_(changed, b.icmp_unsigned("==", touched, bits(8)(0)))
            emitter.write(known, address, bits(8)(1))
        b.branch(done)
        b.position_at_end(done)
        result = b.phi(bits(1))
        result.add_incoming(bits(1)(0), before)
        result.add_incoming(changed, do)
        return result

    def _note(self, b: ir.IRBuilder, store: int, address: Any, old: Any, touched: Any) -> None:
        count = self.load(b, "undone.0", 64)
        row = b.add(b.mul(count, CELL(4)), CELL(self.shape.cell("undo")))
        for column, each in enumerate((CELL(store), address, old, touched)):
            wide = b.zext(each, CELL) if each.type.width < 64 else each
            b.store(wide, b.gep(self.cells, [b.add(row, CELL(column))], source_etype=CELL))
        self.store(b, "undone", 0, b.add(count, CELL(1)))
