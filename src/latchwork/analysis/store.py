"""Where the control store's address comes from, and where its data go.

Each net at an address pin is followed back through buffers and inverters to what it means: a bit of the opcode, a
condition, the interrupt, a bit of a register, a constant. The order of the pins is the builder's own affair.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.cones import Cone, cone
from latchwork.analysis.edges import Edge, next_cone, started
from latchwork.analysis.lanes import Lanes
from latchwork.analysis.settle import Combinational, Settling, StateBit
from latchwork.model import MicroprogramBinding
from latchwork.netlist import ChipId, NetId, Netlist
from latchwork.netlist.netlist import NO_NET
from latchwork.netlist.queries import memory_pins

NO_STATE = StateBit(-1, "", 0)


@dataclass(frozen=True, order=True)
class Role:
    """What a net stands for. ``kind``: "opcode" (``index``: its bit), "condition" (``name``; true at ``level``),
    "interrupt", "word" (``index``: the word net, ``delay``: clocks since the store showed it), "state" (``state``),
    "constant" (``level``), "computed" from several of these, or "unknown"."""

    kind: str
    index: int = -1
    name: str = ""
    level: int = 1
    delay: int = 0
    state: StateBit = NO_STATE


@dataclass(frozen=True)
class Literal:
    """A role at a net, ``inverted`` where inverters lie between."""

    net: NetId
    role: Role
    inverted: bool = False


@dataclass(frozen=True)
class StoreChip:
    """A ROM by its own pins, lowest bit first: the net at each, ``NO_NET`` where it is open."""

    chip: ChipId
    address: tuple[NetId, ...]
    data: tuple[NetId, ...]


class StoreWiring:
    """The wiring around the control store, each question answered once."""

    def __init__(self, netlist: Netlist, binding: MicroprogramBinding) -> None:
        self.netlist = netlist
        self.binding = binding
        self.whole = Combinational(netlist)
        self.chips = tuple(store_chip(netlist, chip) for chip in binding.store)
        self.decode = tuple(store_chip(netlist, chip) for chip in binding.decode)
        self._aliases: dict[StateBit, Role | None] = {}

    @cached_property
    def word_nets(self) -> tuple[NetId, ...]:
        """The nets at data pins, each once, by number, so that the order of pins plays no part."""
        return _nets(chip.data for chip in self.chips)

    @cached_property
    def address_nets(self) -> tuple[NetId, ...]:
        """The nets at address pins that are not constant."""
        constant = self.whole.facts
        nets = _nets(chip.address for chip in self.chips)
        return tuple(net for net in nets if net not in constant and self.role(net).role.kind != "constant")

    @cached_property
    def decode_nets(self) -> tuple[NetId, ...]:
        """The nets at data pins of the decode ROMs."""
        return _nets(chip.data for chip in self.decode)

    @cached_property
    def chips_of_word(self) -> dict[NetId, tuple[int, ...]]:
        """Word net -> places in ``chips`` of those that show it."""
        return {net: tuple(i for i, chip in enumerate(self.chips) if net in chip.data) for net in self.word_nets}

    @cached_property
    def named(self) -> dict[NetId, Role]:
        """The nets whose role is stated."""
        binding = self.binding
        found = {net: Role("condition", name=name, level=level) for name, net, level in binding.conditions}
        found.update({net: Role("opcode", index) for index, net in enumerate(binding.opcode)})
        if binding.interrupt != NO_NET:
            found[binding.interrupt] = Role("interrupt")
        found.update({net: Role("word", net) for net in self.word_nets})
        found.update({net: Role("decode", net) for net in self.decode_nets})
        return found

    @cached_property
    def named_states(self) -> dict[StateBit, tuple[Role, bool]]:
        """Register bits that a net with a stated role shows, inverted or not."""
        found: dict[StateBit, tuple[Role, bool]] = {}
        for net, role in self.named.items():
            if role.kind in ("word", "decode"):
                continue
            others = [other for other in self.named if other != net]
            states = self.cone(net, others).states
            literal = self._single_state(net, next(iter(states))) if len(states) == 1 else None
            if literal is not None:
                found[literal.role.state] = (role, literal.inverted)
        return found

    def cone(self, net: NetId, cuts: Iterable[NetId] | None = None) -> Cone:
        """The fan-in of a net, ended by nets whose role is stated, or by ``cuts``."""
        return cone(self.whole, (net,), tuple(self.named if cuts is None else cuts))

    def _single_state(self, net: NetId, state: StateBit) -> Literal | None:
        levels = self.settling(2, {}, {state: (2, 1)}).net(net)
        if levels in ((2, 1), (1, 2)):
            return Literal(net, Role("state", state=state), levels == (1, 2))
        return None

    def settling(self, width: int, given: Mapping[NetId, Lanes], states: Mapping[StateBit, Lanes]) -> Settling:
        """``width`` cases of the machine while it runs."""
        return Settling(self.whole, width, given, {**started(self.whole, (1 << width) - 1), **states})

    # ---- roles

    @cached_property
    def _roles(self) -> dict[NetId, Literal]:
        return {}

    def role(self, net: NetId) -> Literal:
        """What a net stands for."""
        if net not in self._roles:
            self._roles[net] = self._find_role(net)
        return self._roles[net]

    def _find_role(self, net: NetId) -> Literal:
        if net in self.whole.facts:
            return Literal(net, Role("constant", level=self.whole.facts[net]))
        if net in self.named:
            return Literal(net, self.named[net])
        found = self.cone(net)
        if len(found.nets) + len(found.states) > 1:
            return Literal(net, Role("computed"))
        if found.nets:
            return self._followed_to_net(net, next(iter(found.nets)))
        if found.states:
            return self._followed_to_state(net, next(iter(found.states)))
        return self._constant(net)

    def _followed_to_net(self, net: NetId, source: NetId) -> Literal:
        levels = self.settling(2, {source: (2, 1)}, {}).net(net)
        kinds = {(2, 1): False, (1, 2): True}
        return Literal(net, self.named[source], kinds[levels]) if levels in kinds else Literal(net, Role("computed"))

    def _followed_to_state(self, net: NetId, state: StateBit) -> Literal:
        literal = self._single_state(net, state)
        if literal is None:
            return self._constant(net)
        role, turned = self.state_role(state)
        return Literal(net, role, literal.inverted != turned)

    def _constant(self, net: NetId) -> Literal:
        ones, zeros = self.settling(1, {}, {}).net(net)
        return Literal(net, Role("constant", level=ones) if ones | zeros else Role("unknown"))

    def state_role(self, state: StateBit) -> tuple[Role, bool]:
        """What a register bit stands for: something stated, a delayed word bit, or itself."""
        if state in self.named_states:
            return self.named_states[state]
        return self.alias(state) or Role("state", state=state), False

    # ---- control registers

    def alias(self, state: StateBit) -> Role | None:
        """The word bit that a register takes over unchanged at each clock, maybe held at times."""
        if state not in self._aliases:
            self._aliases[state] = None
            self._aliases[state] = self._find_alias(state)
        return self._aliases[state]

    @property
    def known_aliases(self) -> dict[StateBit, Role]:
        """The bits of control registers that were come upon so far."""
        return {state: role for state, role in self._aliases.items() if role is not None}

    def _find_alias(self, state: StateBit) -> Role | None:
        found = next_cone(self.whole, state, self.named)
        for net in sorted(found.nets):
            if self.named[net].kind == "word" and self._takes(state, {net: (0b1100, 0b0011)}, {}):
                return Role("word", net, delay=1)
        for other in sorted(found.states - {state}):
            before = self.alias(other)
            if before is not None and self._takes(state, {}, {other: (0b1100, 0b0011)}):
                return Role("word", before.index, delay=before.delay + 1)
        return None

    def _takes(self, state: StateBit, given: Mapping[NetId, Lanes], states: Mapping[StateBit, Lanes]) -> bool:
        """Four cases: the source 0 or 1, the register holding 0 or 1. It must never go against both, and may hold on
        to one level (a halt that stops its own clock), but not to each."""
        if self.netlist.clock == NO_NET:
            return False
        ones, zeros = self._after_edges(state, given, {**states, state: (0b1010, 0b0101)})
        return bool(zeros & 1 and ones & 8 and not (ones & 2 and zeros & 4))

    def _after_edges(self, state: StateBit, given: Mapping[NetId, Lanes], states: Mapping[StateBit, Lanes]) -> Lanes:
        rising = self.edge(state) != "fall"
        return Edge(self.whole, 4, given, states, self.netlist.clock, rising=rising).next(state)

    @cached_property
    def _edges(self) -> dict[tuple[ChipId, str], str]:
        return {}

    def edge(self, state: StateBit) -> str:
        """At which edge of the main clock a register changes: "rise", "fall" or ""."""
        from latchwork.analysis.edges import edge_of

        key = (state.chip, state.state)
        if key not in self._edges:
            clock = self.netlist.clock
            self._edges[key] = "" if clock == NO_NET else edge_of(self.whole, state, clock)
        return self._edges[key]


def store_chip(netlist: Netlist, chip: ChipId) -> StoreChip:
    """A ROM's nets by its memory's address and data bits. ValueError where its memory does not stand at pins."""
    found = memory_pins(netlist.part_of(chip))
    if found is None:
        raise ValueError(f"{netlist.part_of(chip).name} is no memory whose address and data stand at pins")
    pins = netlist.chips[chip].pins
    return StoreChip(chip, tuple(pins[pin] for pin in found.address), tuple(pins[pin] for pin in found.data))


def _nets(groups: Iterable[Iterable[NetId]]) -> tuple[NetId, ...]:
    return tuple(sorted({net for group in groups for net in group if net != NO_NET}))
