"""Loops that are none: drives that depend on each other by ports, but not bit by bit.

Where splitting one drive into its bits, or all of them, leaves no circle, nets are worked out in order. That is what
repeating the loop ends in: without a circle there is one solution, and it is reached in fewer repetitions than there
are nets. Where a cell that nothing was written to might be read on the way, the loop is repeated as it stands.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from latchwork.engines.compiled.pool import Pool, number, reads_of
from latchwork.engines.oracle.grouping import Grouping
from latchwork.engines.oracle.wiring import Wiring, drive_of, state_names
from latchwork.engines.ordering import ordered_components
from latchwork.logic import Expression, Operation
from latchwork.netlist import NetId

Piece = tuple[int, int]
"""A drive with one of its bits, or with -1 for all of them."""

WHOLE = -1


@dataclass(frozen=True)
class Cut:
    """In this order the drives of a loop, some of them bit by bit, only read what was worked out before."""

    split: frozenset[int]
    order: tuple[Piece, ...]


def cut(wiring: Wiring, grouping: Grouping, drives: tuple[int, ...]) -> Cut | None:
    """How a loop is worked out in order; None where it has to be repeated."""
    if any(_reads_unwritten(wiring, drive) for drive in drives):
        return None
    wide = [drive for drive in drives if len(wiring.drives[drive].outputs) > 1]
    reads: dict[Piece, frozenset[NetId]] = {}
    for split in (*([drive] for drive in wide), wide):
        pieces = [piece for drive in drives for piece in _pieces(wiring, drive, drive in split)]
        for piece in pieces:
            if piece not in reads:
                reads[piece] = frozenset(grouping.group[net] for net in _read(wiring, piece))
        order = _ordered(wiring, grouping, pieces, reads)
        if order is not None:
            return Cut(frozenset(split), order)
    return None


def _reads_unwritten(wiring: Wiring, drive: int) -> bool:
    chip, row = drive_of(wiring, drive)
    keeps = {memory.name: memory.keeps for memory in wiring.netlist.part_of(chip).behaviour.memories}
    roots = [row.value, *([row.enable] if row.enable is not None else [])]
    return any(not keeps[str(read.data)] for root in roots for read in reads_of(root))


def _pieces(wiring: Wiring, drive: int, split: bool) -> list[Piece]:
    return [(drive, bit) for bit in range(len(wiring.drives[drive].outputs))] if split else [(drive, WHOLE)]


def value_of(pool: Pool, value: Expression, bit: int) -> Expression:
    """The part of a chip's expression that makes one bit; its variables are not looked up yet."""
    own = pool.rewritten(value, pool.variable_bits, SameNames())
    return pool.deep_slice(own, bit, 1)


class SameNames(dict[str, str]):
    """Memories go by their own names."""

    def __missing__(self, name: str) -> str:
        return name


def _read(wiring: Wiring, piece: Piece) -> set[NetId]:
    """The nets that a piece of a drive reads."""
    drive, bit = piece
    if bit == WHOLE:
        return set(wiring.drives[drive].bound.nets)
    chip, row = drive_of(wiring, drive)
    roots = [value_of(Pool(), row.value, bit), *([row.enable] if row.enable is not None else [])]
    states = state_names(wiring.netlist.part_of(chip))
    found: set[NetId] = set()
    for name, low, width in (bits for root in roots for bits in _variables(root)):
        if name not in states:
            found.update(wiring.port(chip, name)[low : low + width])
    return found


def _variables(root: Expression) -> Iterator[tuple[str, int, int]]:
    seen, waiting = {root}, [root]
    while waiting:
        node = waiting.pop()
        inner = node.args[0] if node.operation is Operation.SLICE else node
        if inner.operation is Operation.VARIABLE:
            yield str(inner.data), number(node) if inner is not node else 0, node.width
            continue
        for arg in node.args:
            if arg not in seen:
                seen.add(arg)
                waiting.append(arg)


def _ordered(
    wiring: Wiring, grouping: Grouping, pieces: list[Piece], reads: dict[Piece, frozenset[NetId]]
) -> tuple[Piece, ...] | None:
    """The pieces in an order without a circle; None where there is one."""
    driven = [_reached(wiring, grouping, piece) for piece in pieces]
    following = [[n for n, piece in enumerate(pieces) if nets & reads[piece]] for nets in driven]
    if any(n in others for n, others in enumerate(following)):
        return None
    components = ordered_components(following)
    return tuple(pieces[each[0]] for each in components) if len(components) == len(pieces) else None


def _reached(wiring: Wiring, grouping: Grouping, piece: Piece) -> set[NetId]:
    drive, bit = piece
    outputs = wiring.drives[drive].outputs
    nets: Collection[NetId] = outputs if bit == WHOLE else [outputs[bit]]
    rails = {wiring.netlist.high, wiring.netlist.low}
    driven = {grouping.group[net] for net in nets} - rails
    return driven | {other for net in driven for other in grouping.links[net]} - rails
