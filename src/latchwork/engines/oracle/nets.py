"""Nets settle: with all state held, evaluate the drives whose inputs changed until nothing changes.

What a net may carry is a set, written as a mask: 1 it may be low, 2 it may be high, 4 it may carry nothing. In the
plain reading each set has one member: where both levels are possible (a fight, weak levels that differ, a loop
that does not settle) the net takes the level that the seed gives it. In the known reading it stays open.

Drives are evaluated in an order in which each comes after those it depends on. Drives that depend on each other
are a loop: all that have changed inputs are evaluated from the same values, then all their nets change at once,
until nothing changes or the bound is reached.
"""

from __future__ import annotations

from collections.abc import Callable
from heapq import heappop, heappush

from latchwork.engines.oracle.functions import Environment
from latchwork.engines.oracle.grouping import Grouping
from latchwork.engines.oracle.masks import EITHER, HIGH, LOW, OFF, combined
from latchwork.engines.oracle.wiring import Wiring
from latchwork.netlist import NetId

_TTL_BITS = (0, 0, 1, 0, 1, 0, 0, 0)
_BITS = (0, 0, 1, 0, 0, 0, 0, 0)
_TTL_KNOWN = (0, 1, 1, 0, 1, 0, 0, 0)
_KNOWN = (0, 1, 1, 0, 0, 0, 0, 0)
NO_RESULT = (-1, -1, -1)


class Nets:
    """The nets of a machine under power. ``choice[net]`` is the mask taken where a net may be either level.

    ``changed`` gathers the groups that changed since it was last emptied, with the mask they had.
    """

    def __init__(self, wiring: Wiring, choice: list[int], environments: tuple[Environment, Environment]) -> None:
        count = len(wiring.names)
        self.wiring = wiring
        self.choice = choice
        self.environments = environments
        self.bits, self.cmos_bits = environments[0][0], environments[1][0]
        self.certain, self.cmos_certain = environments[0][1], environments[1][1]
        self.cmos_open = [choice[net] >> 1 if choice[net] != EITHER else 0 for net in range(count)]
        self.results: list[tuple[int, int, int]] = [NO_RESULT] * len(wiring.drives)
        self.masks = [OFF] * wiring.contributions
        self.strong = [OFF] * count
        self.final = list(choice)
        self.kept = [EITHER] * len(wiring.keepers)
        self.closed: set[int] = set()  # switches to a rail, by number of their tie
        self.suspects: set[NetId] = set()  # groups on which drivers may differ
        self.forced: dict[NetId, int] = {}
        self.held: dict[NetId, int] = {}  # groups of loops that do not settle
        self.unsettled: dict[int, set[NetId]] = {}  # by rank of a loop: its nets that are held
        self.released: dict[int, set[NetId]] = {}
        self.changed: dict[NetId, int] = {}
        self.moved: set[NetId] | None = None
        self.on_oscillation: Callable[[set[NetId]], None] = lambda _: None
        self._calls = [
            (drive.bound.function.call, environments[drive.bound.kind], drive.bound.places) for drive in wiring.drives
        ]
        self.heap: list[int] = []

    def regroup(self, grouping: Grouping) -> None:
        """Take new tables after a switch moved; everything is evaluated anew from the values that stood before."""
        self.grouping = grouping
        self.dirty: list[set[int]] = [set() for _ in grouping.components]
        self.queued = [False] * len(grouping.components)
        self.heap = []
        self.held.clear()
        self.unsettled.clear()
        self.released.clear()
        self.suspects.clear()
        self.results = [NO_RESULT] * len(self.results)
        self._fix()
        groups = [net for net, group in enumerate(grouping.group) if net == group]
        self._simple = [self._is_simple(net) for net in range(len(grouping.group))]
        for net in groups:
            self._put(net, self.final[net])
        for number in range(len(self.results)):
            self.touch(number)
        for net in groups:
            if net in self.fixed or not grouping.contributions[net]:
                self._resolve(net)
        for each in self.wiring.outside:
            self._resolve(grouping.group[each.net])

    def _fix(self) -> None:
        rails = self.wiring.netlist
        self.forced_groups = {self.grouping.group[net] for net in self.forced}
        self.fixed = {rails.high: HIGH, rails.low: LOW}
        self.fixed.update((self.grouping.group[net], mask) for net, mask in self.forced.items())

    def _is_simple(self, net: NetId) -> bool:
        g = self.grouping
        alone = len(g.contributions[net]) == 1 and not (g.rails[net] or g.links[net] or g.keepers[net])
        return alone and net not in self.fixed

    def force(self, net: NetId, mask: int | None) -> None:
        """Hold a net (and those joined with it) at a mask whatever drives it, or let it go."""
        if mask is None:
            self.forced.pop(net, None)
        else:
            self.forced[net] = mask
        group = self.grouping.group[net]
        self._fix()
        self._simple[group] = self._is_simple(group)
        self._resolve(group)

    def set_mask(self, contribution: int, mask: int) -> None:
        """A driver outside the chips gives another level."""
        if self.masks[contribution] != mask:
            self.masks[contribution] = mask
            net = self.wiring.outside[contribution - self.wiring.contributions].net
            self._resolve(self.grouping.group[net])

    def switch(self, tie: int, closed: bool, net: NetId) -> None:
        """Close or open a switch between a net and a rail."""
        (self.closed.add if closed else self.closed.discard)(tie)
        self._resolve(self.grouping.group[net])

    def restore(
        self,
        forced: dict[NetId, int],
        closed: frozenset[int],
        held: dict[NetId, int],
        unsettled: dict[int, frozenset[NetId]],
        suspects: frozenset[NetId],
    ) -> None:
        """Back to a saved moment at rest; the lists have been put back already."""
        self.forced, self.closed, self.suspects = dict(forced), set(closed), set(suspects)
        self.held = dict(held)
        self.unsettled = {rank: set(nets) for rank, nets in unsettled.items()}
        self._fix()
        self._simple = [self._is_simple(net) for net in range(len(self.grouping.group))]
        for rank in range(len(self.dirty)):
            self.dirty[rank].clear()
            self.queued[rank] = False
        self.heap.clear()
        self.released.clear()
        self.changed.clear()

    def touch(self, number: int) -> None:
        """A drive is to be evaluated: something it reads has changed."""
        rank = self.grouping.ranks[number]
        if self.grouping.loops[rank]:
            self.dirty[rank].add(number)
        if not self.queued[rank]:
            self.queued[rank] = True
            heappush(self.heap, rank)

    def settle(self) -> None:
        """Evaluate until nothing changes."""
        self._release_loops()
        grouping, heap = self.grouping, self.heap
        while heap:
            rank = heappop(heap)
            if grouping.loops[rank]:
                self._iterate(rank)
                self.queued[rank] = False
            else:
                self.queued[rank] = False
                number = grouping.components[rank][0]
                call, environment, places = self._calls[number]
                result = call(environment, places)
                if result != self.results[number]:
                    for net in self._applied(number, result):
                        self._resolve(net)
        self._keep()

    def _applied(self, number: int, result: tuple[int, int, int]) -> list[NetId]:
        """Note a drive's new result; the groups that it touches."""
        low, high, off = result
        last_low, last_high, last_off = self.results[number]
        self.results[number] = result
        changed = low ^ last_low | high ^ last_high | off ^ last_off
        drive = self.wiring.drives[number]
        group, masks, outputs, first = self.grouping.group, self.masks, drive.outputs, drive.first
        if changed < 0:
            changed = (1 << len(outputs)) - 1
        touched = []
        while changed:
            bit = (changed & -changed).bit_length() - 1
            changed &= changed - 1
            masks[first + bit] = (low >> bit & 1) | (high >> bit & 1) << 1 | (off >> bit & 1) << 2
            touched.append(group[outputs[bit]])
        return touched

    def _resolve(self, net: NetId) -> None:
        """Work out what a group carries from its drivers, pulls and keepers."""
        if self._simple[net] and net not in self.held:
            mask = self.masks[self.grouping.contributions[net][0]]
            mask = self.strong[net] = self._chosen(net, mask)
            if mask != self.final[net]:
                self._put(net, mask)
            return
        mask = self._strong(net)
        if mask != self.strong[net]:
            self.strong[net] = mask
            for other in self.grouping.links[net]:
                self._finish(other)
        self._finish(net)

    def _chosen(self, net: NetId, mask: int) -> int:
        return mask & OFF | self.choice[net] if mask & EITHER == EITHER else mask

    def _strong(self, net: NetId) -> int:
        fixed = self.fixed.get(net)
        if fixed is not None:
            if self.grouping.contributions[net]:
                self.suspects.add(net)
            return fixed
        masks = [self.masks[number] for number in self.grouping.contributions[net]]
        masks += [mask for tie, mask in self.grouping.rails[net] if tie in self.closed]
        mask = combined(masks)
        if mask & EITHER == EITHER:
            self.suspects.add(net)
        else:
            self.suspects.discard(net)
        return self._chosen(net, mask)

    def driven(self, net: NetId) -> int:
        """What drivers and pulls make of a group, keepers left out."""
        mask = self.strong[net]
        if mask & OFF and self.grouping.links[net]:
            weak = combined(self.strong[other] for other in self.grouping.links[net])
            mask = self._chosen(net, mask & EITHER | weak)
        return mask

    def _finish(self, net: NetId) -> None:
        if net in self.held:
            mask = self.held[net]
        else:
            mask = self.driven(net)
            if mask & OFF and self.grouping.keepers[net]:
                kept = combined(self.kept[number] for number in self.grouping.keepers[net])
                mask = self._chosen(net, mask & EITHER | kept)
        if mask != self.final[net]:
            self._put(net, mask)

    def _put(self, net: NetId, mask: int) -> None:
        self.changed.setdefault(net, self.final[net])
        cmos_bit = self.cmos_open[net] if mask == OFF else _BITS[mask]
        cmos_known = _KNOWN[mask]
        for member in self.grouping.members[net]:
            self.final[member] = mask
            self.bits[member] = _TTL_BITS[mask]
            self.certain[member] = _TTL_KNOWN[mask]
            self.cmos_bits[member] = cmos_bit
            self.cmos_certain[member] = cmos_known
        for number in self.grouping.readers[net]:
            self.touch(number)
        if self.moved is not None:
            self.moved.add(net)

    def _keep(self) -> None:
        """Keepers take the settled level of their nets."""
        for number, keeper in enumerate(self.wiring.keepers):
            mask = self.driven(self.grouping.group[keeper.net])
            self.kept[number] = mask & EITHER | (self.kept[number] if mask & OFF else 0)

    # Loops

    def bound(self, rank: int) -> int:
        """How often a loop is evaluated before it counts as oscillating."""
        return 16 + 2 * len(self.grouping.inner[rank])

    def _iterate(self, rank: int) -> None:
        held: set[NetId] = set()
        while not self._steps(rank):
            moved = self._moved(rank)
            for net in sorted(moved) if self.wiring.known else sorted(moved)[:1]:
                held.add(net)
                self.held[net] = self.choice[net]
                self._finish(net)
        if held:
            self.unsettled[rank] = held
            self.on_oscillation(held)

    def _steps(self, rank: int) -> bool:
        """Evaluate a loop up to its bound; whether it has settled."""
        for _ in range(self.bound(rank)):
            if not self.dirty[rank]:
                return True
            self._step(rank)
        return not self.dirty[rank]

    def _step(self, rank: int) -> None:
        numbers = sorted(self.dirty[rank])
        self.dirty[rank].clear()
        touched: dict[NetId, None] = {}
        results = []
        for number in numbers:
            call, environment, places = self._calls[number]
            results.append(call(environment, places))
        for number, result in zip(numbers, results, strict=True):
            if result != self.results[number]:
                touched.update(dict.fromkeys(self._applied(number, result)))
        touched.update(dict.fromkeys(sorted(self.released.pop(rank, ()))))
        for net in touched:
            self._resolve(net)

    def _moved(self, rank: int) -> set[NetId]:
        """The groups of a loop that move while it is evaluated as often again."""
        self.moved = set()
        for _ in range(self.bound(rank)):
            self._step(rank)
        found, self.moved = self.moved & self.grouping.inner[rank] - self.held.keys(), None
        return found

    def _release_loops(self) -> None:
        """Loops that did not settle last time start again, from the values at which their nets were held."""
        for rank in sorted(self.unsettled):
            self.released[rank] = self.unsettled[rank]
            for net in self.unsettled[rank]:
                del self.held[net]
            for number in self.grouping.components[rank]:
                self.touch(number)
        self.unsettled.clear()
