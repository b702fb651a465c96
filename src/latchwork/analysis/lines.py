"""Each control line as a function of the control word, of conditions and of opcode bits.

A line is followed back through decoders, gates, selectors and control registers. Lines that share bits of the word are
solved together, as one *component*; its truth table holds every choice of its word bits under every outside level.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.cones import Cone
from latchwork.analysis.lanes import Lanes, flip, variables
from latchwork.analysis.settle import StateBit
from latchwork.analysis.store import Role, StoreWiring
from latchwork.netlist import ChipId, Line, NetId

LARGEST = 18
"""Bits of the word and outside levels up to which a component is enumerated."""


@dataclass(frozen=True)
class LineCone:
    """What a line hangs on. ``words``: word nets; ``delays``: how many clocks lie between the store and the line;
    ``outside``: conditions, opcode bits, the interrupt; ``unsure``: names of what else it hangs on, whose level
    nothing tells; ``chips``: passed on the way."""

    line: Line
    words: frozenset[NetId]
    delays: frozenset[int]
    outside: frozenset[Role]
    unsure: tuple[str, ...]
    chips: frozenset[ChipId]

    @property
    def delay(self) -> int:
        return max(self.delays, default=0)


@dataclass(frozen=True)
class Component:
    """Lines that share word bits. In the truth tables ``outside`` counts from lane bit 0, ``words`` stand above."""

    words: tuple[NetId, ...]
    outside: tuple[Role, ...]
    lines: tuple[Line, ...]

    @property
    def bits(self) -> int:
        return len(self.words) + len(self.outside)


class Lines:
    """All control lines that a microprogram sets."""

    def __init__(self, store: StoreWiring) -> None:
        self.store = store
        self.netlist = store.netlist

    @cached_property
    def cones(self) -> dict[str, LineCone]:
        return {line.name: self._cone(line) for line in self.netlist.lines if not line.hardware}

    def _cone(self, line: Line) -> LineCone:
        phase = {net for net, _ in line.phase}
        cuts = {*self.store.named, *phase, self.netlist.clock}
        found = self.store.cone(line.net, cuts)
        roles = [self.store.named[net] for net in found.nets if net in self.store.named]
        roles += [self.store.state_role(state)[0] for state in found.states]
        words = [role for role in roles if role.kind == "word"]
        outside = frozenset(role for role in roles if role.kind in ("condition", "opcode", "interrupt"))
        return LineCone(
            line,
            frozenset(role.index for role in words),
            frozenset(role.delay for role in words),
            outside,
            tuple(self._unsure(found, self.netlist.clock in found.nets - phase)),
            found.chips,
        )

    def _unsure(self, cone: Cone, clocked: bool) -> Iterator[str]:
        if clocked:
            yield f"`{self.netlist.nets[self.netlist.clock].name}`, the clock"
        timers = self.store.settling(1, {}, {}).states
        for state in sorted(cone.states):
            if self.store.state_role(state)[0].kind == "state" and state not in timers:
                yield f"a state of {self._chip(state.chip)}"
        for chip, _ in sorted(cone.switches):
            yield f"the switch {self.netlist.chips[chip].reference}"
        for net in sorted(cone.undriven):
            yield f"`{self.netlist.nets[net].name}`, which nothing drives"

    def _chip(self, chip: ChipId) -> str:
        return f"{self.netlist.part_of(chip).name} {self.netlist.chips[chip].reference}"

    @cached_property
    def components(self) -> tuple[Component, ...]:
        """Groups of lines that share word bits, in the order of their first lines."""
        groups: list[tuple[set[NetId], list[LineCone]]] = []
        for cone in self.cones.values():
            touching = [group for group in groups if group[0] & cone.words]
            merged = (set(cone.words).union(*(group[0] for group in touching)), [c for g in touching for c in g[1]])
            merged[1].append(cone)
            groups = [group for group in groups if group not in touching] + [merged]
        return tuple(_component(words, cones) for words, cones in groups)

    def table(self, component: Component) -> dict[str, Lanes]:
        """The level of each line in every lane of the component."""
        values = variables(component.bits)
        below = len(component.outside)
        outside = dict(zip(component.outside, values[:below], strict=True))
        words = dict(zip(component.words, values[below:], strict=True))
        return {line.name: self._line_table(line, words, outside, 1 << component.bits) for line in component.lines}

    def _line_table(self, line: Line, words: Mapping[NetId, Lanes], outside: Mapping[Role, Lanes], width: int) -> Lanes:
        full = (1 << width) - 1
        given, states = placed(self.store, words, outside)
        given.update({net: ((full, 0) if level else (0, full)) for net, level in line.phase})
        return self.store.settling(width, given, states).net(line.net)

    @cached_property
    def reached(self) -> frozenset[NetId]:
        """Word nets that some line hangs on."""
        return frozenset(net for cone in self.cones.values() for net in cone.words)


def placed(
    store: StoreWiring, words: Mapping[NetId, Lanes], outside: Mapping[Role, Lanes]
) -> tuple[dict[NetId, Lanes], dict[StateBit, Lanes]]:
    """Nets and states that stand for word bits and outside roles, with the levels given for these. A word bit's
    level is put both at the store and into the control registers that take it."""
    given: dict[NetId, Lanes] = dict(words)
    for net, role in store.named.items():
        if role in outside:
            given[net] = outside[role]
    states: dict[StateBit, Lanes] = {}
    for state, (role, inverted) in store.named_states.items():
        if role in outside:
            states[state] = flip(outside[role]) if inverted else outside[role]
    for state, role in store.known_aliases.items():
        if role.index in words:
            states[state] = words[role.index]
    return given, states


def _component(words: Iterable[NetId], cones: Sequence[LineCone]) -> Component:
    outside = sorted({role for cone in cones for role in cone.outside})
    return Component(tuple(sorted(words)), tuple(outside), tuple(cone.line for cone in cones))
