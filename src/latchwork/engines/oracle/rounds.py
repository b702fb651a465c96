"""Rounds: state held, nets settle; what was triggered changes together; again, until nothing is triggered."""

from __future__ import annotations

from collections.abc import Iterable

from latchwork.engines.oracle.elements import Element, MemoryElement, Proposal, SlotProposal
from latchwork.engines.oracle.grouping import Grouping
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.trouble import Trouble
from latchwork.engines.seeding import seeded
from latchwork.netlist import NetId


class Rounds:
    """``pending``: elements (by number) to be examined in the next settled round."""

    def __init__(self, machine: Machine, elements: list[Element], trouble: Trouble) -> None:
        self.machine = machine
        self.elements = elements
        self.trouble = trouble
        self.bound = 100 + 2 * len(elements)
        self.pending: set[int] = set()
        self.restless: set[int] = set()
        self.net_watchers: list[set[int]] = []
        self.slot_watchers: list[set[int]] = [set() for _ in machine.wiring.slots]
        self.store_watchers: list[set[int]] = [set() for _ in machine.wiring.stores]
        self.owner = {element.slot: number for number, element in enumerate(elements) if element.slot is not None}
        for number, element in enumerate(elements):
            self._watch_states(number, element)

    def _watch_states(self, number: int, element: Element) -> None:
        for bound in element.reads:
            for slot in bound.slots:
                self.slot_watchers[slot].add(number)
            for store in bound.stores:
                self.store_watchers[store].add(number)
        if isinstance(element, MemoryElement):
            self.store_watchers[element.store].add(number)  # what writes by level writes again

    def regroup(self, grouping: Grouping) -> None:
        """Take new tables after a switch moved; everything is examined, for nets may carry what others carried."""
        self.pending.update(range(len(self.elements)))
        self.net_watchers = [set() for _ in grouping.group]
        for number, element in enumerate(self.elements):
            for net in _nets_read(element):
                self.net_watchers[grouping.group[net]].add(number)

    def power_up(self) -> None:
        """Settle for the first time: no edges, everything is examined."""
        self.machine.nets.settle()
        for element in self.elements:
            for sense in element.senses:
                sense.look(self.machine)
                sense.was, sense.turns = sense.now, 0
        self.machine.nets.changed.clear()
        self.machine.remember()
        self.pending.update(range(len(self.elements)))

    def settle(self) -> None:
        """Rounds until nothing is triggered, or the bound is reached."""
        calm = False
        moving = Moving(self.machine)
        for number in range(self.bound):
            self.trouble.round = number
            self._settle_nets(moving if number >= self.bound // 2 else None)
            proposals = self._examined()
            self.machine.remember()
            changed = [proposal for proposal in proposals if proposal.apply(self.machine)]
            if changed:
                self._look_again(changed)
                calm = False
                if number >= self.bound // 2:
                    moving.note(changed)
            elif calm or not self.restless:
                return
            else:
                calm = True
        self._give_up(moving)

    def _settle_nets(self, moving: Moving | None) -> None:
        nets = self.machine.nets
        nets.settle()
        for net, old in nets.changed.items():
            if nets.final[net] != old:
                self.pending.update(self.net_watchers[net])
                if moving:
                    moving.nets.add(net)
        nets.changed.clear()

    def _examined(self) -> list[Proposal]:
        """What the elements propose that have something new to read."""
        numbers = sorted(self.pending | self.restless if self.restless else self.pending)
        self.pending.clear()
        proposals = []
        for number in numbers:
            element = self.elements[number]
            for sense in element.senses:
                if sense.look(self.machine):
                    self.trouble.turned(element, sense)
            proposal = element.examine(self.machine, self.trouble)
            if proposal:
                proposals.append(proposal)
            if self.machine.known:
                (self.restless.add if element.restless() else self.restless.discard)(number)
        return proposals

    def _look_again(self, changed: Iterable[Proposal]) -> None:
        for proposal in changed:
            if isinstance(proposal, SlotProposal):
                self.pending |= self.slot_watchers[proposal.slot]
            else:
                self.pending |= self.store_watchers[proposal.store]

    def _give_up(self, moving: Moving) -> None:
        """State that never rests takes the bits that the seed gives it; what follows waits for the next tick."""
        moving.scatter()
        self._settle_nets(moving)
        self.machine.remember()
        self.pending.update(range(len(self.elements)))
        self.trouble.never_rests(moving.nets, moving.chips())

    def look_at(self, slot: int) -> None:
        """A state was overwritten from outside: its own element and all that read it are examined."""
        self.pending |= self.slot_watchers[slot]
        if slot in self.owner:
            self.pending.add(self.owner[slot])

    def look_at_store(self, store: int) -> None:
        """A memory was overwritten from outside."""
        self.pending |= self.store_watchers[store]


def _nets_read(element: Element) -> set[NetId]:
    return {net for bound in element.reads for net in bound.nets}


class Moving:
    """The bits of state that still change in the later rounds of a tick that does not come to rest."""

    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        self.nets: set[NetId] = set()
        self.slots: dict[int, int] = {}  # slot -> mask of bits
        self.stores: set[int] = set()

    def note(self, changed: Iterable[Proposal]) -> None:
        before = self.machine.before[0]
        for proposal in changed:
            if isinstance(proposal, SlotProposal):
                slot = proposal.slot
                bits, certain = proposal.value
                self.slots[slot] = self.slots.get(slot, 0) | bits ^ before[2][slot] | certain ^ before[3][slot]
            else:
                self.stores.add(proposal.store)

    def scatter(self) -> None:
        """Give them what the seed says, or nothing known."""
        machine = self.machine
        for slot, moving in self.slots.items():
            bits, certain = machine.held(slot)
            row = machine.wiring.slots[slot]
            if machine.known:
                machine.store_slot(slot, (bits & ~moving, certain & ~moving))
            else:
                machine.store_slot(slot, (bits & ~moving | seeded(machine.seed, row.key, row.width) & moving, certain))
        for store in self.stores:
            if machine.known:
                machine.cells[store].lose()
                machine.touch_store(store)

    def chips(self) -> set[int]:
        wiring = self.machine.wiring
        return {wiring.slots[slot].chip for slot in self.slots} | {wiring.stores[store].chip for store in self.stores}
