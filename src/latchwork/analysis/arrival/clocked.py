"""The shortest period of the main clock in one corner, and what sets it.

Both edges of the main clock are followed through the graph (``runs``); each demand (``checks``, ``gates``) is a limit
on the period. Limits are worked out in every lane together: in the plain analysis a lane is a choice of drivers of
shared nets, in the one by microstep it is a control word.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.arrival.activity import Activity
from latchwork.analysis.arrival.checks import Demand, Demands, Hold, Width
from latchwork.analysis.arrival.flow import Flow
from latchwork.analysis.arrival.gates import Gates
from latchwork.analysis.arrival.graph import Arc, Graph, Node, node
from latchwork.analysis.arrival.loads import SOLDERLESS, Boards
from latchwork.analysis.arrival.runs import EVERY_NET, Launch, Piece, Pieces, Run, way
from latchwork.analysis.arrival.senses import FALL, RISE
from latchwork.analysis.arrival.times import Corner, limit_rows
from latchwork.analysis.levels import set_lanes
from latchwork.netlist import ChipId, NetId


@dataclass(frozen=True)
class Limit:
    """``period`` in ps that a demand needs, in the lanes of ``mask``. ``start``: edge of the main clock with which the
    way begins, ``end``: the one that has to wait for it; ``arrival`` at ``node``, ``clock`` the way of the clock to the
    reference, ``share`` of the period from one edge to the other; whole clocks are added for ways that began earlier.
    """

    period: int
    mask: int
    demand: Demand
    start: int
    end: int
    node: Node
    arrival: int
    clock: int
    share: float
    launch: Launch
    common: int = 0  # ps that ``clock`` was given back, because the way begins behind the same gates


@dataclass(frozen=True)
class HoldSlack:
    """What a pin holds longer than it must, in ps; less than 0: too short."""

    slack: int
    hold: Hold
    start: int
    node: Node
    arrival: int
    clock: int


@dataclass(frozen=True)
class WidthLimit:
    """``period`` in ps that a pulse needs."""

    period: int
    width: Width
    share: float
    begins: int
    ends: int


@dataclass(frozen=True)
class RateLimit:
    """``period`` in ps that the clock pin of a chip asks for by its maximum clock frequency."""

    period: int
    chip: ChipId
    pin: int
    source: str
    origin: str


class Clocked:
    """``high``: share of the period during which the main clock is high. ``flow``: where lanes are steps, in which of
    them registers can have changed."""

    def __init__(
        self,
        activity: Activity,
        clock: NetId,
        corner: Corner,
        *,
        boards: Boards = SOLDERLESS,
        high: float = 0.5,
        flow: Flow | None = None,
    ) -> None:
        self.netlist, self.activity, self.clock, self.corner, self.high = (
            activity.wiring.netlist, activity, clock, corner, high,
        )  # fmt: skip
        self.boards = boards
        self.graph = Graph(activity.wiring, activity, corner, boards)
        flows = [flow if flow is not None and flow.edge == edge else None for edge in (FALL, RISE)]
        self.latest = [Run(self.graph, clock, edge, flow=flows[edge]) for edge in (FALL, RISE)]
        self.gates = Gates(self.graph, self.clock_nets)
        for run in self.latest:
            run.spread_data(self.clock_nets, self.gates.blocked(self._reached(run.edge)))
        self.early_clock = self._early_clock()

    def _reached(self, edge: int) -> list[Node]:
        return [place for place, pieces in enumerate(self.latest[edge].clock) if pieces]

    def _early_clock(self) -> list[list[Pieces]]:
        """When the clock reaches its nets at the earliest, by the edge it comes with: with minimum figures where ways
        are analysed with maximum ones."""
        corner = Corner.MINIMUM if self.corner is Corner.MAXIMUM else self.corner
        chips = sorted({at.chip for net in self.clock_nets for at in self.netlist.pins_on[net]})
        graph = Graph(self.activity.wiring, self.activity, corner, self.boards, chips=chips)
        return [Run(graph, self.clock, edge, latest=False).clock for edge in (FALL, RISE)]

    @cached_property
    def earliest(self) -> list[Run]:
        """The shortest ways."""
        runs = [Run(self.graph, self.clock, edge, latest=False) for edge in (FALL, RISE)]
        for run in runs:
            run.spread_data(self.clock_nets, self.gates.blocked(self._reached(run.edge)), together=True)
        return runs

    @cached_property
    def clock_nets(self) -> frozenset[NetId]:
        """Nets that the main clock reaches through gates."""
        return frozenset(place // 2 for run in self.latest for place, pieces in enumerate(run.clock) if pieces)

    @cached_property
    def demands(self) -> Demands:
        return Demands(self.netlist, self.activity)

    @cached_property
    def cut(self) -> tuple[Arc, ...]:
        """Where ways that come back to themselves were cut."""
        return tuple(dict.fromkeys(arc for run in self.latest for arc in run.cut))

    def share(self, start: int, end: int) -> float:
        """The share of the period from an edge of the main clock to the next ``end`` edge."""
        if start == end:
            return 1.0
        return self.high if start == RISE else 1.0 - self.high

    # ---- limits on the period

    @cached_property
    def limits(self) -> tuple[Limit, ...]:
        """All limits, the longest period first."""
        found = [limit for demand in self._all_demands() for limit in self._of_demand(demand)]
        return tuple(sorted(found, key=lambda limit: -limit.period))

    def _all_demands(self) -> Iterator[Demand]:
        yield from self.demands.demands
        yield from self.gates.demands()

    def _of_demand(self, demand: Demand) -> Iterator[Limit]:
        net = self.netlist.chips[demand.chip].pins[demand.pin]
        for end in (FALL, RISE):
            for reference in self.early_clock[end][demand.reference]:
                for start in (FALL, RISE):
                    for place in (node(net, FALL), node(net, RISE)):
                        yield from self._limits(demand, (start, end), place, reference)

    def _limits(self, demand: Demand, edges: tuple[int, int], place: Node, reference: Piece) -> Iterator[Limit]:
        share = self.share(*edges)
        for launch, data in self.latest[edges[0]].data.items():
            for piece in data[place]:
                mask = piece.mask & reference.mask & demand.mask
                if mask:
                    common = self._common(launch.net, demand.reference, edges)
                    clock = reference.time + common
                    period = round((piece.time + demand.time.picoseconds - clock) / (share + launch.age))
                    yield Limit(period, mask, demand, *edges, place, piece.time, clock, share, launch, common)

    def _common(self, launch: NetId, reference: Node, edges: tuple[int, int]) -> int:
        """What the way of the clock to a reference is taken too early because the same gates are slow on the way to
        where data begin: with the same edge, a gate that both pass is one gate."""
        if edges[0] != edges[1] or launch == self.clock or reference // 2 == self.clock:
            return 0
        late = self._way_of_clock(self.latest[edges[0]].clock, node(launch, edges[0]), launch)
        early = self._way_of_clock(self.early_clock[edges[1]], reference, reference // 2)
        credit = 0
        for slow, fast in zip(late, early, strict=False):
            if (slow.start, slow.end, slow.chip) != (fast.start, fast.end, fast.chip):
                break
            credit += slow.picoseconds - fast.picoseconds
        return credit

    def _way_of_clock(self, clock: Sequence[Pieces], place: Node, net: NetId) -> list[Arc]:
        found = next((at for at in (place, 2 * net, 2 * net + 1) if clock[at]), None)
        if found is None:
            return []
        return [arc for _, arc in way(clock, clock, found, set_lanes(clock[found][0].mask)[0])]

    def worst(self) -> list[Limit | None]:
        """For each lane the limit with the longest period."""
        lanes = self.activity.all
        result: list[Limit | None] = [None] * lanes.bit_length()
        left = lanes
        for limit in self.limits:
            for lane in set_lanes(limit.mask & left):
                result[lane] = limit
            left &= ~limit.mask
            if not left:
                break
        return result

    def way(self, limit: Limit, lane: int | None = None) -> list[tuple[int, Arc]]:
        """The arcs to the pin of a limit, each with the time at its end."""
        run = self.latest[limit.start]
        chosen = set_lanes(limit.mask)[0] if lane is None else lane
        return way(run.data[limit.launch], run.clock, limit.node, chosen)

    def clock_way(self, limit: Limit, lane: int | None = None) -> list[tuple[int, Arc]]:
        """The way of the clock to the edge that the limit is measured against."""
        clock = self.early_clock[limit.end]
        return way(clock, clock, limit.demand.reference, set_lanes(limit.mask)[0] if lane is None else lane)

    # ---- what does not depend on the period

    @cached_property
    def hold_slacks(self) -> tuple[HoldSlack, ...]:
        """Every hold, the tightest first: the earliest change after the latest edge."""
        found = [
            slack
            for hold in (*self.demands.holds, *self.gates.holds())
            for edge in (FALL, RISE)
            for slack in self._of_hold(hold, edge)
        ]
        return tuple(sorted(found, key=lambda item: item.slack))

    def _of_hold(self, hold: Hold, edge: int) -> Iterator[HoldSlack]:
        net = self.netlist.chips[hold.chip].pins[hold.pin]
        for reference in self.latest[edge].clock[hold.reference]:
            for place in (node(net, FALL), node(net, RISE)):
                for piece in self.earliest[edge].data.get(Launch(EVERY_NET), {place: ()})[place]:
                    if piece.mask & reference.mask & hold.mask:
                        slack = piece.time - reference.time - hold.time.picoseconds
                        yield HoldSlack(slack, hold, edge, place, piece.time, reference.time)

    @cached_property
    def widths(self) -> tuple[WidthLimit, ...]:
        """Pulses that the main clock makes at pins with a least width, the one that needs the longest period first.
        Both ends of a pulse pass the same gates, with the figures of one corner."""
        found = [limit for width in self.demands.widths for limit in self._of_width(width)]
        return tuple(sorted(found, key=lambda item: -item.period))

    def _of_width(self, width: Width) -> Iterator[WidthLimit]:
        net = self.netlist.chips[width.chip].pins[width.pin]
        begin, end = node(net, width.level), node(net, 1 - width.level)
        for first in (FALL, RISE):
            for opening in self.latest[first].clock[begin]:
                for closing in self.latest[1 - first].clock[end]:
                    if opening.mask & closing.mask:
                        share = self.share(first, 1 - first)
                        period = round((opening.time - closing.time + width.time.picoseconds) / share)
                        yield WidthLimit(period, width, share, opening.time, closing.time)

    @cached_property
    def rates(self) -> tuple[RateLimit, ...]:
        """Maximum clock frequencies of chips on clock nets, the slowest first."""
        return tuple(sorted(self._rates(), key=lambda item: -item.period))

    def _rates(self) -> Iterator[RateLimit]:
        for chip, pin in self.gates.strobes:
            if self.netlist.chips[chip].pins[pin] in self.clock_nets:
                for row in limit_rows(self.netlist.part_of(chip), "maximum clock", pin):
                    if row.minimum:
                        yield RateLimit(round(1e6 / row.minimum), chip, pin, row.source, row.confidence.value)
