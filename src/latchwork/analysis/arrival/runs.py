"""The latest and the earliest arrival at each node after an edge of the main clock, in all lanes at once.

What arrives at a node is a list of *pieces*: a time with the lanes in which it is the answer, no two pieces with a
lane in common. A run starts at one edge of the main clock, at time 0. First it follows the clock alone through gates,
without registers: *clock nets*. Then come registers and latches that this edge moves, and all that follows from them.
Registers whose clock pin no clock net reaches start when their clock pin's data arrive.

Ways that come back to where they were are cut there; the arcs are kept in ``cut``.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Sequence
from operator import attrgetter
from typing import NamedTuple

from latchwork.analysis.arrival.flow import Flow
from latchwork.analysis.arrival.graph import Arc, Graph, Node, node
from latchwork.analysis.arrival.senses import Kind
from latchwork.netlist import ChipId, NetId

LAUNCHING = (Kind.CLOCK, Kind.OPEN)
EVERY_NET: NetId = -1


class Piece(NamedTuple):
    """``arc``: the last one on the way; None at the beginning of a run. ``clock``: it starts on a clock net, and the
    way to there is the clock's."""

    time: int
    mask: int
    arc: Arc | None
    clock: bool = False


Pieces = tuple[Piece, ...]


class Launch(NamedTuple):
    """Where ways begin: the clock net (``EVERY_NET``: all of them), and how many clocks ago at the latest."""

    net: NetId
    age: int = 0


class Run:
    """``edge``: of the main clock, 1 rising. ``latest``: longest ways, else shortest. ``flow``: of the steps that
    begin with this edge; None where all that is clocked may change with each edge."""

    def __init__(self, graph: Graph, clock: NetId, edge: int, *, latest: bool = True, flow: Flow | None = None) -> None:
        self.graph, self.edge, self.latest, self.flow = graph, edge, latest, flow
        self.cut: list[Arc] = []
        self._blocked: dict[tuple[Node, Node, int], int] = {}
        self._order = _order(graph)
        start = {node(clock, edge): [Piece(0, graph.activity.all, None)]}
        self.clock = self._spread(start, lambda arc: arc.kind is Kind.THROUGH and not arc.state, self._opened)
        self.data: dict[Launch, list[Pieces]] = {}

    def spread_data(
        self, clock_nets: frozenset[NetId], gated: frozenset[tuple[Node, Node, ChipId]], *, together: bool = False
    ) -> None:
        """The second half, when it is known from both runs which nets are clock nets. ``gated``: ways into clock
        nets that the clock blocks after this edge. Into ``data`` by the clock net at which ways begin, or all
        ``together`` under ``EVERY_NET``."""

        def follows(arc: Arc) -> bool:
            if arc.kind in LAUNCHING and arc.start // 2 in clock_nets:
                return False
            return (arc.start, arc.end, arc.chip) not in gated and not self._closed(arc, clock_nets)

        groups: dict[Launch, dict[Node, list[Piece]]] = {}
        for place, pieces in enumerate(self.clock):
            if pieces:
                self._launch(place, pieces, EVERY_NET if together else place // 2, groups)
        self.data = {launch: self._spread(sources, follows) for launch, sources in groups.items()}

    def _launch(self, place: Node, pieces: Pieces, net: NetId, groups: dict[Launch, dict[Node, list[Piece]]]) -> None:
        """What begins at a node of the clock: the clock itself, as data, and what it moves."""
        sources = groups.setdefault(Launch(net), {})
        sources.setdefault(place, []).extend(piece._replace(clock=True) for piece in pieces)
        for arc in self.graph.out[place]:
            if arc.kind in LAUNCHING:
                mask = self._opened(arc)
                for age, lanes in enumerate((mask,) if self.flow is None else self.flow.ages(arc)):
                    if lanes & mask:
                        sources = groups.setdefault(Launch(net, age), {})
                        sources.setdefault(arc.end, []).extend(_moved(pieces, arc, lanes & mask, True))

    def _opened(self, arc: Arc) -> int:
        """The lanes in which the clock comes along an arc. With the edge that begins a step, gates stand as the step
        before has set them."""
        return arc.mask if self.flow is None else arc.mask | self.flow.after(arc.mask)

    def _closed(self, arc: Arc, clock_nets: frozenset[NetId]) -> bool:
        """Whether the arc is the way through a latch that the clock has closed with this edge."""
        if arc.kind is not Kind.THROUGH or not arc.state or arc.part_arc is None:
            return False
        opens = [other for other in self._opening(arc) if other.start // 2 in clock_nets]
        return bool(opens) and not any(self.clock[other.start] for other in opens)

    def _opening(self, arc: Arc) -> list[Arc]:
        return [
            other for other in self.graph.into[arc.end]
            if other.kind is Kind.OPEN and other.chip == arc.chip and other.state == arc.state
        ]  # fmt: skip

    def _spread(
        self,
        sources: dict[Node, list[Piece]],
        follows: Callable[[Arc], bool],
        opened: Callable[[Arc], int] = attrgetter("mask"),
    ) -> list[Pieces]:
        found: list[Pieces] = [()] * len(self.graph.into)
        rank, waiting = self._order, [(self._order[place], place) for place in sources]
        heapq.heapify(waiting)
        queued = set(sources)
        visits: dict[Node, int] = {}
        while waiting:
            _, place = heapq.heappop(waiting)
            queued.discard(place)
            visits[place] = visits.get(place, 0) + 1
            arcs = [arc for arc in self.graph.into[place] if found[arc.start] and follows(arc)]
            ways = [(arc, opened(arc)) for arc in arcs]
            pieces = self._arriving(place, sources.get(place, ()), ways, found, suspect=visits[place] > 3)
            if pieces == found[place]:
                continue
            found[place] = pieces
            for arc in self.graph.out[place]:
                if arc.end not in queued and follows(arc):
                    queued.add(arc.end)
                    heapq.heappush(waiting, (rank[arc.end], arc.end))
        return found

    def _arriving(
        self,
        place: Node,
        own: Iterable[Piece],
        ways: Iterable[tuple[Arc, int]],
        found: Sequence[Pieces],
        *,
        suspect: bool,
    ) -> Pieces:
        every = list(own)
        for arc, opened in ways:
            mask = opened & ~self._blocked.get((arc.start, arc.end, arc.chip), 0)
            if suspect:
                mask &= ~self._circling(place, arc, mask, found)
            every += _moved(found[arc.start], arc, mask, False)
        return _best(every, self.latest)

    def _circling(self, place: Node, arc: Arc, mask: int, found: Sequence[Pieces]) -> int:
        """The lanes in which the way to the arc already came through ``place``: cut from now on."""
        circling = 0
        for piece in found[arc.start]:
            if piece.mask & mask:
                circling |= _lanes_through(place, arc.start, piece.mask & mask, found)
        if circling:
            key = (arc.start, arc.end, arc.chip)
            if key not in self._blocked:
                self.cut.append(arc)
            self._blocked[key] = self._blocked.get(key, 0) | circling
        return circling


def _lanes_through(place: Node, at: Node, mask: int, found: Sequence[Pieces]) -> int:
    """The lanes of ``mask`` in which the way to ``at`` passes ``place``."""
    through, waiting = 0, [(at, mask, 0)]
    while waiting:
        here, lanes, depth = waiting.pop()
        if here == place:
            through |= lanes
            continue
        for piece in found[here]:
            common = piece.mask & lanes
            if common and piece.arc is not None and not piece.clock and depth < 400:
                waiting.append((piece.arc.start, common, depth + 1))
    return through


def _moved(pieces: Iterable[Piece], arc: Arc, mask: int, clock: bool) -> Iterable[Piece]:
    for piece in pieces:
        common = piece.mask & mask
        if common:
            yield Piece(piece.time + arc.picoseconds, common, arc, clock)


def _best(every: list[Piece], latest: bool) -> Pieces:
    """Each lane's latest (or earliest) piece."""
    every.sort(key=lambda piece: piece.time, reverse=latest)
    taken, kept = 0, []
    for piece in every:
        mask = piece.mask & ~taken
        if mask:
            taken |= mask
            kept.append(piece if mask == piece.mask else piece._replace(mask=mask))
    return tuple(kept)


def joined(ways: Iterable[tuple[Pieces, Arc]], *, latest: bool) -> Pieces:
    """What arrives over some arcs, each from the pieces at its start."""
    return _best([piece for pieces, arc in ways for piece in _moved(pieces, arc, arc.mask, False)], latest)


def _order(graph: Graph) -> list[int]:
    """A rank for each node, so that most arcs lead upwards: by depth first from all nodes, backwards."""
    rank = [0] * len(graph.into)
    seen = bytearray(len(rank))
    count = len(rank)
    for first in range(len(rank)):
        if seen[first]:
            continue
        seen[first] = 1
        stack = [(first, iter(graph.out[first]))]
        while stack:
            place, arcs = stack[-1]
            following = next((arc.end for arc in arcs if not seen[arc.end] and arc.kind not in LAUNCHING), None)
            if following is None:
                stack.pop()
                count -= 1
                rank[place] = count
            else:
                seen[following] = 1
                stack.append((following, iter(graph.out[following])))
    return rank


def way(found: Sequence[Pieces], clock: Sequence[Pieces], place: Node, lane: int) -> list[tuple[int, Arc]]:
    """The arcs of the way to a node in a lane, the first one first, each with the time at its end."""
    result: list[tuple[int, Arc]] = []
    here: Sequence[Pieces] = found
    while True:
        piece = next((piece for piece in here[place] if piece.mask >> lane & 1), None)
        if piece is None or piece.arc is None or len(result) > 10_000:
            return result[::-1]
        result.append((piece.time, piece.arc))
        here = clock if piece.clock else here
        place = piece.arc.start
