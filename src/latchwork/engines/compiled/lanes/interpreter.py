"""What carries out the operations of a block: one function in machine code for all blocks, compiled once.

It works on a table of numbers, the *state* of a block (``State`` names them), and on rows of 512 bits. Where rows,
codes and tables lie is said by addresses in the state; so nothing is compiled for a machine or a fault.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import IntEnum
from functools import cache
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.emit import CELL, POINTER, bits
from latchwork.engines.compiled.jit import Compiled
from latchwork.engines.compiled.lanes.memory_code import MemoryCode
from latchwork.engines.compiled.lanes.native import (
    LANES,
    VECTOR,
    WORD,
    any_bit,
    counting,
    load,
    load_pointer,
    place,
    splat,
)
from latchwork.engines.compiled.lanes.operations import (
    ACTIVE,
    CHANGED,
    DIFFERENT,
    LEFT,
    ONES,
    ROW,
    STUCK,
    WIDTHS,
    ZEROS,
    Op,
)

NOTED = {Op.UPDATE: CHANGED, Op.LOOK: DIFFERENT, Op.TRAP: STUCK, Op.OPEN: STUCK}
"""Rows in which lanes are gathered."""


class State(IntEnum):
    """Numbers of a block, in its table."""

    ROWS = 0
    ROUND = 1  # codes, by address
    COMMIT = 2
    PRIME = 3
    LOOK = 4
    ADDRESSES = 5  # tables of addresses of descriptors, see memory_code
    READS = 6
    WRITES = 7
    BOUND = 8  # of rounds
    TICK = 9  # number of the next tick
    DROP = 10  # 1: a lane goes no further once it is seen to differ
    FIRST = 11  # table: by lane the tick in which it was first seen to differ, or -1
    STARTS = 12  # table: where the events of a tick begin, one more than there are ticks
    EVENTS = 13  # table: row times ROW, and what each of its words becomes
    SEEN = 14  # address of a row: lanes that were seen to differ


@cache
def interpreter() -> dict[str, Callable[..., int]]:
    """``prime(state)`` settles at power-up; ``run(state, ticks)`` goes on; ``spread(to, from, count)`` copies each of
    so many bytes to all lanes."""
    module = ir.Module("lanes")
    _Writer(module).write()
    return Compiled(module).functions(prime=1, run=2, spread=3)


class _Writer:
    def __init__(self, module: ir.Module) -> None:
        self.module = module
        self.memory = MemoryCode(module)

    def write(self) -> None:
        self.memory.write()
        self._execute()
        self._prime()
        self._run()

    # Carrying out a code

    def _execute(self) -> None:
        kind = ir.FunctionType(ir.VoidType(), [POINTER, POINTER])
        self.execute = ir.Function(self.module, kind, "execute")
        self.execute.linkage = "internal"
        state, code = self.execute.args
        b = ir.IRBuilder(self.execute.append_basic_block("entry"))
        self.rows = load_pointer(b, state, State.ROWS)
        self.state = state
        entry, head, over = b.block, b.append_basic_block("head"), b.append_basic_block("over")
        b.branch(head)
        b.position_at_end(head)
        at = b.phi(POINTER)
        at.add_incoming(code, entry)
        count = b.zext(b.load(b.gep(at, [CELL(1)], source_etype=WORD), typ=WORD), CELL)
        first = b.gep(at, [CELL(2)], source_etype=WORD)
        switch = b.switch(b.load(at, typ=WORD), over)
        ir.IRBuilder(over).ret_void()
        for op in WIDTHS:
            block = self.execute.append_basic_block(op.name)
            switch.add_case(WORD(op), block)
            self._group(ir.IRBuilder(block), op, first, count, (at, head))

    def _group(self, b: ir.IRBuilder, op: Op, first: Any, count: Any, head: tuple[Any, Any]) -> None:
        """All records of a group, one after the other."""
        before, body, after = b.block, b.append_basic_block(f"{op.name}.each"), b.append_basic_block(f"{op.name}.end")
        b.branch(body)
        b.position_at_end(body)
        at, left = b.phi(POINTER), b.phi(CELL)
        changed = b.phi(VECTOR)
        at.add_incoming(first, before)
        left.add_incoming(count, before)
        changed.add_incoming(VECTOR([0] * 8), before)
        record = [b.load(b.gep(at, [CELL(n)], source_etype=WORD), typ=WORD) for n in range(WIDTHS[op])]
        found = self._record(b, op, record)
        following, fewer = b.gep(at, [CELL(WIDTHS[op])], source_etype=WORD), b.sub(left, CELL(1))
        now = b.or_(changed, found) if found is not None else changed
        at.add_incoming(following, b.block)
        left.add_incoming(fewer, b.block)
        changed.add_incoming(now, b.block)
        b.cbranch(b.icmp_unsigned("!=", fewer, CELL(0)), body, after)
        b.position_at_end(after)
        self._after(b, op, following, now, (first, head))

    def _after(self, b: ir.IRBuilder, op: Op, following: Any, changed: Any, start: tuple[Any, tuple[Any, Any]]) -> None:
        """Where the code goes on when a group is done."""
        _, (at, head) = start
        if op is Op.AGAIN:
            active = self._vector(b, self._row(b, ACTIVE))
            back = b.zext(b.load(following, typ=WORD), CELL)
            code = self.execute.args[1]
            onward = b.gep(following, [CELL(1)], source_etype=WORD)
            again = any_bit(b, b.and_(changed, active))
            following = b.select(again, b.gep(code, [back], source_etype=WORD), onward)
        elif op in NOTED:
            row = self._row(b, NOTED[op])
            b.store(b.or_(self._vector(b, row), changed), row, align=ROW)
        at.add_incoming(following, b.block)
        b.branch(head)

    def _row(self, b: ir.IRBuilder, number: int) -> Any:
        return b.gep(self.rows, [CELL(number * ROW)], source_etype=bits(8))

    def _at(self, b: ir.IRBuilder, place: Any) -> Any:
        return b.gep(self.rows, [b.zext(place, CELL)], source_etype=bits(8))

    def _vector(self, b: ir.IRBuilder, pointer: Any) -> Any:
        return b.load(pointer, typ=VECTOR, align=ROW)

    def _signed(self, b: ir.IRBuilder, place: Any) -> Any:
        """A row, inverted where the lowest bit of its place says so."""
        value = self._vector(b, self._at(b, b.and_(place, WORD(~1 & 0xFFFFFFFF))))
        turned = b.sub(CELL(0), b.zext(b.and_(place, WORD(1)), CELL))
        return b.xor(value, splat(b, turned))

    def _record(self, b: ir.IRBuilder, op: Op, record: list[Any]) -> Any:
        """Carry out one record; the lanes that it found something in, where it looks for that."""
        if op in (Op.ADDRESS, Op.READ, Op.WRITE):
            self._memory(b, op, record[0])
            return None
        if op is Op.LOOK:
            value = self._signed(b, record[0])
            healthy = b.sub(CELL(0), b.and_(b.extract_element(value, WORD(0)), CELL(1)))
            return b.xor(value, splat(b, healthy))
        if op is Op.TRAP:
            return self._signed(b, record[0])
        if op is Op.OPEN:
            return b.and_(*(self._vector(b, self._at(b, each)) for each in record))
        if op is Op.AGAIN:
            return self._again(b, record)
        to = self._at(b, record[0])
        if op is Op.LOOP:
            b.store(self._vector(b, self._row(b, ONES)), to, align=ROW)
            return None
        if op in (Op.COPY, Op.UPDATE):
            value = self._signed(b, record[1])
            found = b.xor(value, self._vector(b, to)) if op is Op.UPDATE else None
            b.store(value, to, align=ROW)
            return found
        b.store(self._combined(b, op, [self._vector(b, self._at(b, each)) for each in record[1:]]), to, align=ROW)
        return None

    def _combined(self, b: ir.IRBuilder, op: Op, v: list[Any]) -> Any:
        match op:
            case Op.AND:
                return b.and_(v[0], v[1])
            case Op.AND_NOT:
                return b.and_(v[0], b.not_(v[1]))
            case Op.NOR:
                return b.not_(b.or_(v[0], v[1]))
            case Op.OR:
                return b.or_(v[0], v[1])
            case Op.XOR:
                return b.xor(v[0], v[1])
            case Op.NOT:
                return b.not_(v[0])
            case Op.AND_OR:
                return b.or_(b.and_(v[0], v[1]), b.and_(v[2], v[3]))
            case Op.CHOOSE:
                return b.or_(b.and_(v[0], v[1]), b.and_(b.not_(v[0]), v[2]))
            case Op.CHOOSE_NOT:
                return b.or_(b.and_(v[0], v[1]), b.not_(b.or_(v[0], v[2])))
            case _:
                raise AssertionError(op)

    def _memory(self, b: ir.IRBuilder, op: Op, number: Any) -> None:
        table = {Op.ADDRESS: State.ADDRESSES, Op.READ: State.READS, Op.WRITE: State.WRITES}[op]
        descriptors = load_pointer(b, self.state, table)
        descriptor = b.load(b.gep(descriptors, [b.zext(number, CELL)], source_etype=CELL), typ=CELL)
        function = {Op.ADDRESS: self.memory.address, Op.READ: self.memory.read, Op.WRITE: self.memory.store}[op]
        b.call(function, [self.rows, b.inttoptr(descriptor, POINTER)])

    def _again(self, b: ir.IRBuilder, record: list[Any]) -> Any:
        """Holds take what they become; the lanes in which they change."""
        changed = None
        for hold, following in zip(record[:2], record[2:], strict=True):
            to, value = self._at(b, hold), self._vector(b, self._at(b, following))
            moved = b.xor(value, self._vector(b, to))
            b.store(value, to, align=ROW)
            changed = moved if changed is None else b.or_(changed, moved)
        return changed

    # Ticks

    def _prime(self) -> None:
        function = ir.Function(self.module, ir.FunctionType(CELL, [POINTER]), "prime")
        b = ir.IRBuilder(function.append_basic_block("entry"))
        for code in (State.ROUND, State.PRIME):
            b.call(self.execute, [function.args[0], load_pointer(b, function.args[0], code)])
        b.ret(CELL(0))

    def _run(self) -> None:
        function = ir.Function(self.module, ir.FunctionType(CELL, [POINTER, CELL]), "run")
        state, ticks = function.args
        b = ir.IRBuilder(function.append_basic_block("entry"))
        self.rows = load_pointer(b, state, State.ROWS)
        with counting(b, ticks) as done:
            self._events(b, state, done)
            self._rounds(b, state)
            self._look(b, state)
            b.store(b.add(load(b, state, State.TICK), CELL(1)), place(b, state, State.TICK))
        b.ret(CELL(0))

    def _events(self, b: ir.IRBuilder, state: Any, tick: Any) -> None:
        starts, events = load_pointer(b, state, State.STARTS), load_pointer(b, state, State.EVENTS)
        first = b.load(b.gep(starts, [tick], source_etype=CELL), typ=CELL)
        after = b.load(b.gep(starts, [b.add(tick, CELL(1))], source_etype=CELL), typ=CELL)
        with counting(b, b.sub(after, first)) as number:
            at = b.shl(b.add(first, number), CELL(1))
            where = b.load(b.gep(events, [at], source_etype=CELL), typ=CELL)
            value = b.load(b.gep(events, [b.or_(at, CELL(1))], source_etype=CELL), typ=CELL)
            b.store(splat(b, value), b.gep(self.rows, [where], source_etype=bits(8)), align=ROW)

    def _rounds(self, b: ir.IRBuilder, state: Any) -> None:
        """Until nothing changes in a lane that counts; lanes that never rest are stuck."""
        before, again, over = b.block, b.append_basic_block("round"), b.append_basic_block("at_rest")
        b.branch(again)
        b.position_at_end(again)
        count = b.phi(CELL)
        count.add_incoming(CELL(1), before)
        changed_row = self._row(b, CHANGED)
        b.store(self._vector(b, self._row(b, ZEROS)), changed_row, align=ROW)
        for code in (State.ROUND, State.COMMIT):
            b.call(self.execute, [state, load_pointer(b, state, code)])
        stuck = self._row(b, STUCK)
        moving = b.and_(self._vector(b, changed_row), self._vector(b, self._row(b, ACTIVE)))
        moving = b.and_(moving, b.not_(self._vector(b, stuck)))
        goes_on = b.and_(any_bit(b, moving), b.icmp_unsigned("<", count, load(b, state, State.BOUND)))
        count.add_incoming(b.add(count, CELL(1)), b.block)
        b.cbranch(goes_on, again, over)
        b.position_at_end(over)
        b.store(b.or_(self._vector(b, stuck), moving), stuck, align=ROW)

    def _look(self, b: ir.IRBuilder, state: Any) -> None:
        """Compare lanes with the first."""
        active_row, different = self._row(b, ACTIVE), self._row(b, DIFFERENT)
        active = self._without_stuck(b, active_row)
        b.store(self._vector(b, self._row(b, ZEROS)), different, align=ROW)
        b.call(self.execute, [state, load_pointer(b, state, State.LOOK)])
        seen_row = load_pointer(b, state, State.SEEN)
        seen = self._vector(b, seen_row)
        new = b.and_(b.and_(self._vector(b, different), active), b.not_(seen))
        with b.if_then(any_bit(b, new)):
            self._note(b, state, different, new)
            b.store(b.or_(seen, new), seen_row, align=ROW)
        dropped = b.and_(new, splat(b, b.sub(CELL(0), load(b, state, State.DROP))))
        b.store(b.and_(active, b.not_(dropped)), active_row, align=ROW)

    def _without_stuck(self, b: ir.IRBuilder, active_row: Any) -> Any:
        """The lanes that go on; those that are stuck are noted as left."""
        active, stuck_row, left_row = self._vector(b, active_row), self._row(b, STUCK), self._row(b, LEFT)
        stuck = self._vector(b, stuck_row)
        b.store(b.or_(self._vector(b, left_row), b.and_(active, stuck)), left_row, align=ROW)
        b.store(self._vector(b, self._row(b, ZEROS)), stuck_row, align=ROW)
        return b.and_(active, b.not_(stuck))

    def _note(self, b: ir.IRBuilder, state: Any, row: Any, new: Any) -> None:
        """Write down the tick for lanes that are seen to differ for the first time; ``row`` is overwritten."""
        b.store(new, row, align=ROW)
        first, tick = load_pointer(b, state, State.FIRST), load(b, state, State.TICK)
        with counting(b, CELL(LANES)) as lane:
            word = b.load(b.gep(row, [b.lshr(lane, CELL(6))], source_etype=CELL), typ=CELL)
            bit = b.and_(b.lshr(word, b.and_(lane, CELL(63))), CELL(1))
            with b.if_then(b.icmp_unsigned("!=", bit, CELL(0))):
                b.store(tick, b.gep(first, [lane], source_etype=CELL))
