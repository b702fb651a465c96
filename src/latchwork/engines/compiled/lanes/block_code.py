"""The codes of a block, and where in its rows everything lies."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from latchwork.engines.compiled.lanes.block_graph import BlockGraph, BlockWrite, Change, StoreKey
from latchwork.engines.compiled.lanes.graph import Literal
from latchwork.engines.compiled.lanes.levels import Level, Levels
from latchwork.engines.compiled.lanes.operations import Code, Op
from latchwork.engines.compiled.lanes.schedule import Scheduler
from latchwork.netlist import NetId


class Codes(NamedTuple):
    """``round``: what one round works out; ``commit``: what then changes; ``prime``: what is remembered at power-up;
    ``look``: what lanes are compared by."""

    round: list[int]
    commit: list[int]
    prime: list[int]
    look: list[int]


@dataclass(frozen=True)
class BlockCode:
    """``writes``: write ports with the byte of the word that each writes; ``levels``: nets that may be asked for."""

    graph: BlockGraph
    scheduler: Scheduler
    codes: Codes
    writes: list[tuple[BlockWrite, int]]
    levels: dict[NetId, Level]

    def place(self, literal: Literal) -> int:
        return self.scheduler.place(literal)


class Compiler:
    """``own``: memories of which each lane has cells of its own; a lane that writes another is stuck."""

    def __init__(
        self,
        built: tuple[BlockGraph, Levels],
        own: Callable[[StoreKey], bool],
        looks: Iterable[Level],
        shown: Iterable[NetId],
    ) -> None:
        self._graph, levels = built
        self._own = own
        self._shown = {net: levels.net(net) for net in shown}
        both = self._graph.graph.both
        self._looks = [each for level, has in looks for each in (both(level, has), has)]
        self._scheduler = Scheduler(self._graph.graph, levels.loops, self._roots())

    def compiled(self) -> BlockCode:
        """The codes."""
        scheduler, graph = self._scheduler, self._graph
        scheduler.schedule(self._roots())
        round_ = scheduler.code
        writes = [write for write in graph.writes if self._own(write.store)]
        for write in graph.writes:
            if write not in writes:
                round_.add(Op.TRAP, scheduler.place(write.strobe))
        commit, ports = self._written(writes)
        remembered = (*self._previous(), *graph.kept)
        self._copied(commit, Op.COPY, remembered)
        self._copied(commit, Op.UPDATE, graph.slots)
        prime, look = Code(), Code()
        self._copied(prime, Op.COPY, remembered)
        for literal in self._looks:
            look.add(Op.LOOK, scheduler.place(literal))
        for literal in (*graph.of_slot.values(), *graph.of_keeper.values(), *self._roots()):
            scheduler.place(literal)
        codes = Codes(*(each.ended() for each in (round_, commit, prime, look)))
        return BlockCode(graph, scheduler, codes, ports, self._shown)

    def _previous(self) -> list[Change]:
        return [Change(leaf, 2 * node) for node, leaf in sorted(self._graph.previous.items())]

    def _roots(self) -> list[Literal]:
        graph = self._graph
        found = [each.following for each in (*graph.slots, *graph.kept, *self._previous())]
        for write in graph.writes:
            found += (write.strobe, *write.address, *write.data)
        found += [each for level in self._shown.values() for each in level]
        return found + self._looks

    def _written(self, writes: Sequence[BlockWrite]) -> tuple[Code, list[tuple[BlockWrite, int]]]:
        """The writes of a round, in their order."""
        code = self._scheduler.code = Code()
        ports: list[tuple[BlockWrite, int]] = []
        for write in writes:
            self._scheduler.address(write.address)
            for byte in range(-(-len(write.data) // 8)):
                code.add(Op.WRITE, len(ports))
                ports.append((write, byte))
        return code, ports

    def _copied(self, code: Code, op: Op, changes: Iterable[Change]) -> None:
        for leaf, following in changes:
            if leaf != following:
                code.add(op, self._scheduler.place(leaf), self._scheduler.place(following))
