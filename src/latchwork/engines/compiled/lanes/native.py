"""Small pieces of machine code for rows of bits: tables of numbers, splats, counting loops."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.emit import CELL, POINTER, bits
from latchwork.engines.compiled.lanes.operations import ROW

LANES = 8 * ROW
VECTOR = ir.VectorType(CELL, 8)
BYTES = ir.VectorType(bits(8), 64)
WORD = bits(32)


def place(b: ir.IRBuilder, table: Any, number: int) -> Any:
    return b.gep(table, [CELL(number)], source_etype=CELL)


def load(b: ir.IRBuilder, table: Any, number: int) -> Any:
    return b.load(place(b, table, number), typ=CELL)


def load_pointer(b: ir.IRBuilder, table: Any, number: int) -> Any:
    return b.inttoptr(load(b, table, number), POINTER)


def room(b: ir.IRBuilder, kind: ir.Type, count: int = 1) -> Any:
    """Place for values of a function, aligned like rows."""
    with b.goto_entry_block():
        found = b.alloca(kind, count)
        found.align = ROW
        found.type = POINTER
        return found


def splat(b: ir.IRBuilder, value: Any) -> Any:
    """The word in each word of a row."""
    single = b.insert_element(VECTOR(ir.Undefined), value, WORD(0))
    return b.shuffle_vector(single, VECTOR(ir.Undefined), ir.Constant(ir.VectorType(WORD, 8), [0] * 8))


def any_bit(b: ir.IRBuilder, row: Any) -> Any:
    """Whether a row has a bit set."""
    return b.icmp_unsigned("!=", b.bitcast(row, bits(LANES)), bits(LANES)(0))


@contextmanager
def counting(b: ir.IRBuilder, count: Any) -> Iterator[Any]:
    """A loop over 0 .. count - 1; the builder goes on behind it."""
    before, head = b.block, b.append_basic_block("count")
    body, after = b.append_basic_block("each"), b.append_basic_block("counted")
    b.branch(head)
    b.position_at_end(head)
    number = b.phi(CELL)
    number.add_incoming(CELL(0), before)
    b.cbranch(b.icmp_unsigned("<", number, count), body, after)
    b.position_at_end(body)
    yield number
    number.add_incoming(b.add(number, CELL(1)), b.block)
    b.branch(head)
    b.position_at_end(after)
