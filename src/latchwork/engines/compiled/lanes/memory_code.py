"""Machine code for what lanes read from and write into memories.

Bits of an address lie in rows; they are turned into one number a lane, once for all memories at that address, and only
when a row has changed. A memory that no lane writes is one image for all; any other has a byte for each lane at each
address. What is read is turned back into rows. Descriptors are tables of numbers:

- address: ``ADDRESS_HEAD`` numbers, then the places of its rows;
- read: ``READ_HEAD`` numbers, then the places of the rows to fill;
- write: ``WRITE_HEAD`` numbers, then the places of the rows of data.

A place is the number of a row times its size, plus one where it counts inverted.
"""

from __future__ import annotations

from enum import IntEnum
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.emit import CELL, POINTER, bits
from latchwork.engines.compiled.lanes.native import (
    BYTES,
    LANES,
    VECTOR,
    WORD,
    any_bit,
    counting,
    load,
    load_pointer,
    place,
    room,
    splat,
)
from latchwork.engines.compiled.lanes.operations import ACTIVE, CHANGED, ROW

ADDRESS_HEAD, READ_HEAD, WRITE_HEAD = 4, 7, 5


class Address(IntEnum):
    WIDTH = 0
    NUMBERS = 1  # where they lie, 32 bits a lane
    VERSION = 2  # counts the times they changed
    COPY = 3  # where a copy of the rows lies


class ReadPlace(IntEnum):
    ADDRESS = 0
    WIDTH = 1
    MEMORY = 2
    OWN = 3  # 1: each lane has a byte of its own
    VERSION = 4  # where the memory's version lies
    ADDRESS_SEEN = 5
    VERSION_SEEN = 6


class WritePlace(IntEnum):
    ADDRESS = 0
    WIDTH = 1
    MEMORY = 2
    VERSION = 3
    STROBE = 4


class MemoryCode:
    """``address``, ``read`` and ``store`` are functions of the rows and a descriptor."""

    def __init__(self, module: ir.Module) -> None:
        self.module = module
        kind = ir.FunctionType(ir.VoidType(), [POINTER, POINTER])
        self.address, self.read, self.store = (ir.Function(module, kind, name) for name in ("address", "read", "store"))
        for function in (self.address, self.read, self.store):
            function.linkage = "internal"

    def write(self) -> None:
        self._address()
        self._read()
        self._store()
        self._spread()

    # Addresses

    def _address(self) -> None:
        rows, table = self.address.args
        b = ir.IRBuilder(self.address.append_basic_block("entry"))
        width, copies = load(b, table, Address.WIDTH), load_pointer(b, table, Address.COPY)
        moved = room(b, VECTOR)
        b.store(VECTOR([0] * 8), moved, align=ROW)
        with counting(b, width) as bit:
            row = b.load(self._row(b, rows, table, ADDRESS_HEAD, bit)[0], typ=VECTOR, align=ROW)
            copy = b.gep(copies, [bit], source_etype=VECTOR)
            change = b.xor(row, b.load(copy, typ=VECTOR, align=ROW))
            b.store(b.or_(b.load(moved, typ=VECTOR, align=ROW), change), moved, align=ROW)
            b.store(row, copy, align=ROW)
        with b.if_then(any_bit(b, b.load(moved, typ=VECTOR, align=ROW))):
            b.store(b.add(load(b, table, Address.VERSION), CELL(1)), place(b, table, Address.VERSION))
            numbers = load_pointer(b, table, Address.NUMBERS)
            self._numbers(b, rows, table, width, numbers)
        b.ret_void()

    def _numbers(self, b: ir.IRBuilder, rows: Any, table: Any, width: Any, numbers: Any) -> None:
        """Sixteen lanes at a time, one bit of the address after the other."""
        sixteen, half = ir.VectorType(WORD, 16), bits(16)
        found = room(b, sixteen)
        with counting(b, CELL(LANES // 16)) as piece:
            b.store(sixteen([0] * 16), found)
            with counting(b, width) as bit:
                row, turned = self._row(b, rows, table, ADDRESS_HEAD, bit)
                lanes = b.load(b.gep(row, [piece], source_etype=half), typ=half)
                lanes = b.xor(lanes, b.trunc(b.sub(CELL(0), turned), half))
                value = self._spread_word(b, b.trunc(b.shl(CELL(1), bit), WORD), 16)
                chosen = b.select(b.bitcast(lanes, ir.VectorType(bits(1), 16)), value, sixteen([0] * 16))
                b.store(b.or_(b.load(found, typ=sixteen), chosen), found)
            b.store(b.load(found, typ=sixteen), b.gep(numbers, [piece], source_etype=sixteen))

    @staticmethod
    def _spread_word(b: ir.IRBuilder, value: Any, count: int) -> Any:
        kind = ir.VectorType(value.type, count)
        single = b.insert_element(kind(ir.Undefined), value, WORD(0))
        return b.shuffle_vector(single, kind(ir.Undefined), ir.Constant(ir.VectorType(WORD, count), [0] * count))

    @staticmethod
    def _row(b: ir.IRBuilder, rows: Any, table: Any, head: int, number: Any) -> tuple[Any, Any]:
        """Where a row of a descriptor lies, and whether it is inverted."""
        where = b.load(b.gep(table, [b.add(number, CELL(head))], source_etype=CELL), typ=CELL)
        turned = b.and_(where, CELL(1))
        return b.gep(rows, [b.sub(where, turned)], source_etype=bits(8)), turned

    # Reading

    def _read(self) -> None:
        rows, table = self.read.args
        b = ir.IRBuilder(self.read.append_basic_block("entry"))
        address = load_pointer(b, table, ReadPlace.ADDRESS)
        address_now = load(b, address, Address.VERSION)
        version = b.load(load_pointer(b, table, ReadPlace.VERSION), typ=CELL)
        same = b.and_(
            b.icmp_unsigned("==", address_now, load(b, table, ReadPlace.ADDRESS_SEEN)),
            b.icmp_unsigned("==", version, load(b, table, ReadPlace.VERSION_SEEN)),
        )
        with b.if_then(b.not_(same)):
            b.store(address_now, place(b, table, ReadPlace.ADDRESS_SEEN))
            b.store(version, place(b, table, ReadPlace.VERSION_SEEN))
            found = room(b, BYTES, LANES // 64)
            self._bytes(b, table, load_pointer(b, address, Address.NUMBERS), found)
            self._into_rows(b, rows, table, found)
        b.ret_void()

    def _bytes(self, b: ir.IRBuilder, table: Any, numbers: Any, found: Any) -> None:
        memory, own = load_pointer(b, table, ReadPlace.MEMORY), load(b, table, ReadPlace.OWN)
        with b.if_else(b.icmp_unsigned("!=", own, CELL(0))) as (each, shared):
            with each:
                self._gather(b, memory, numbers, found, own=True)
            with shared:
                self._gather(b, memory, numbers, found, own=False)

    @staticmethod
    def _gather(b: ir.IRBuilder, memory: Any, numbers: Any, found: Any, *, own: bool) -> None:
        byte = bits(8)
        with counting(b, CELL(LANES // 8)) as piece:
            for lane in range(8):
                number = b.or_(b.shl(piece, CELL(3)), CELL(lane))
                at = b.zext(b.load(b.gep(numbers, [number], source_etype=WORD), typ=WORD), CELL)
                at = b.add(b.mul(at, CELL(LANES)), number) if own else at
                value = b.load(b.gep(memory, [at], source_etype=byte), typ=byte)
                b.store(value, b.gep(found, [number], source_etype=byte))

    def _into_rows(self, b: ir.IRBuilder, rows: Any, table: Any, found: Any) -> None:
        with counting(b, load(b, table, ReadPlace.WIDTH)) as bit:
            row, _ = self._row(b, rows, table, READ_HEAD, bit)
            mask = self._spread_word(b, b.trunc(b.shl(CELL(1), bit), bits(8)), 64)
            for piece in range(LANES // 64):
                values = b.load(b.gep(found, [CELL(piece)], source_etype=BYTES), typ=BYTES, align=1)
                lanes = b.icmp_unsigned("!=", b.and_(values, mask), BYTES([0] * 64))
                b.store(b.bitcast(lanes, CELL), b.gep(row, [CELL(piece)], source_etype=CELL))

    # Writing

    def _store(self) -> None:
        rows, table = self.store.args
        b = ir.IRBuilder(self.store.append_basic_block("entry"))
        where = load(b, table, WritePlace.STROBE)
        turned = b.and_(where, CELL(1))
        strobe = b.load(b.gep(rows, [b.sub(where, turned)], source_etype=bits(8)), typ=VECTOR, align=ROW)
        active = b.load(b.gep(rows, [CELL(ACTIVE * ROW)], source_etype=bits(8)), typ=VECTOR, align=ROW)
        lanes = b.and_(b.xor(strobe, splat(b, b.sub(CELL(0), turned))), active)
        with b.if_then(any_bit(b, lanes)):
            data, writing = room(b, BYTES, LANES // 64), room(b, VECTOR)
            b.store(lanes, writing, align=ROW)
            self._data(b, rows, table, data)
            with counting(b, CELL(LANES // 64)) as word:
                self._store_word(b, rows, table, data, (word, b.gep(writing, [word], source_etype=CELL)))
        b.ret_void()

    def _data(self, b: ir.IRBuilder, rows: Any, table: Any, data: Any) -> None:
        """Bytes of all lanes, from their bits in rows."""
        with counting(b, CELL(LANES // 64)) as piece:
            to = b.gep(data, [piece], source_etype=BYTES)
            b.store(BYTES([0] * 64), to, align=1)
            with counting(b, load(b, table, WritePlace.WIDTH)) as bit:
                row, turned = self._row(b, rows, table, WRITE_HEAD, bit)
                lanes = b.load(b.gep(row, [piece], source_etype=CELL), typ=CELL)
                lanes = b.xor(lanes, b.sub(CELL(0), turned))
                mask = self._spread_word(b, b.trunc(b.shl(CELL(1), bit), bits(8)), 64)
                chosen = b.select(b.bitcast(lanes, ir.VectorType(bits(1), 64)), mask, BYTES([0] * 64))
                b.store(b.or_(b.load(to, typ=BYTES, align=1), chosen), to, align=1)

    def _store_word(self, b: ir.IRBuilder, rows: Any, table: Any, data: Any, where: tuple[Any, Any]) -> None:
        """Write in the lanes of one word of a row."""
        word, waiting = where
        byte = bits(8)
        numbers = load_pointer(b, load_pointer(b, table, WritePlace.ADDRESS), Address.NUMBERS)
        memory = load_pointer(b, table, WritePlace.MEMORY)
        changed = b.gep(rows, [b.add(word, CELL(CHANGED * ROW // 8))], source_etype=CELL)
        head, body, after = (b.append_basic_block(name) for name in ("lanes", "lane", "written"))
        b.branch(head)
        b.position_at_end(head)
        left = b.load(waiting, typ=CELL)
        b.cbranch(b.icmp_unsigned("!=", left, CELL(0)), body, after)
        b.position_at_end(body)
        bit = b.cttz(left, bits(1)(1))
        b.store(b.and_(left, b.sub(left, CELL(1))), waiting)
        lane = b.or_(b.shl(word, CELL(6)), bit)
        at = b.zext(b.load(b.gep(numbers, [lane], source_etype=WORD), typ=WORD), CELL)
        cell = b.gep(memory, [b.add(b.mul(at, CELL(LANES)), lane)], source_etype=byte)
        value = b.load(b.gep(data, [lane], source_etype=byte), typ=byte)
        with b.if_then(b.icmp_unsigned("!=", b.load(cell, typ=byte), value)):
            b.store(value, cell)
            b.store(b.or_(b.load(changed, typ=CELL), b.shl(CELL(1), bit)), changed)
            version = load_pointer(b, table, WritePlace.VERSION)
            b.store(b.add(b.load(version, typ=CELL), CELL(1)), version)
        b.branch(head)
        b.position_at_end(after)

    def _spread(self) -> None:
        function = ir.Function(self.module, ir.FunctionType(CELL, [POINTER, CELL, CELL]), "spread")
        to, source, count = function.args
        b = ir.IRBuilder(function.append_basic_block("entry"))
        start = b.inttoptr(source, POINTER)
        with counting(b, count) as number:
            value = self._spread_word(b, b.load(b.gep(start, [number], source_etype=bits(8)), typ=bits(8)), 64)
            for piece in range(LANES // 64):
                at = b.add(b.mul(number, CELL(LANES // 64)), CELL(piece))
                b.store(value, b.gep(to, [at], source_etype=BYTES), align=1)
        b.ret(CELL(0))
