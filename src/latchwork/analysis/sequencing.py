"""How a machine goes from one control word to the next, as its wiring has it.

Three forms. "steps": opcode, step counter and flags address the store. "start": decode ROMs turn the opcode into a
start address that a counter loads; the counter addresses the store. "next": the address of the next word stands in
the word.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.edges import Edge, next_cone
from latchwork.analysis.lanes import Lanes
from latchwork.analysis.lines import Lines, placed
from latchwork.analysis.settle import StateBit
from latchwork.analysis.store import Literal, Role, StoreWiring
from latchwork.model import MicroprogramBinding
from latchwork.netlist import NetId, Netlist

_RESET_CLOCKS = 4


@dataclass(frozen=True)
class ConditionUse:
    """How a condition reaches the steps. ``by``: "address", "selector" or "next" (it chooses the next address);
    ``lag``: a flag that step k sets is seen by step k + lag at the earliest."""

    name: str
    by: str
    lag: int


@dataclass(frozen=True)
class Sequencing:
    """Facts for rules and tools. ``delay``: clocks between the store showing a word and most lines acting on it.
    ``opcode_lag``: the opcode that step k takes is first seen by the word of step k + opcode_lag.
    ``counter_states``: the register bits that tell the step or micro-address. ``conditions``: every use."""

    form: str
    delay: int
    opcode_lag: int
    counter_states: tuple[StateBit, ...]
    conditions: tuple[ConditionUse, ...]


class Sequencer:
    """The wiring that finds the next control word."""

    def __init__(self, store: StoreWiring, lines: Lines) -> None:
        self.store = store
        self.lines = lines
        self.netlist = store.netlist

    @cached_property
    def address(self) -> tuple[Literal, ...]:
        """What each address net stands for, in the order of ``store.address_nets``."""
        return tuple(self.store.role(net) for net in self.store.address_nets)

    @cached_property
    def states(self) -> tuple[StateBit, ...]:
        """Register bits that address the store, and those that these follow from; stated roles and control
        registers aside."""
        waiting = [state for net in self.store.address_nets for state in self.store.cone(net).states]
        found: set[StateBit] = set()
        while waiting:
            state = waiting.pop()
            if state in found or self.store.state_role(state)[0].kind != "state":
                continue
            if (state.chip, state.state) not in self.store.whole.held:
                continue
            found.add(state)
            waiting += next_cone(self.store.whole, state, self.store.named).states
        return tuple(sorted(found))

    @cached_property
    def steering(self) -> frozenset[NetId]:
        """Word nets that the next address follows from."""
        found: set[NetId] = set()
        for net in self.store.address_nets:
            cone = self.store.cone(net)
            found |= {net for net in cone.nets if net in self.store.chips_of_word}
            found |= self._words_of(cone.states)
        for state in self.states:
            cone = next_cone(self.store.whole, state, self.store.named)
            found |= {net for net in cone.nets if net in self.store.chips_of_word} | self._words_of(cone.states)
        return frozenset(found)

    def _words_of(self, states: Iterable[StateBit]) -> set[NetId]:
        roles = [self.store.state_role(state)[0] for state in states]
        return {role.index for role in roles if role.kind == "word"}

    @cached_property
    def form(self) -> str:
        """ "steps", "start" or "next"."""
        if self.steering - self.lines.reached:
            return "next"
        return "start" if self.store.binding.decode else "steps"

    @cached_property
    def edge(self) -> str:
        """The edge of the main clock at which the address moves on."""
        aliases = [state for net in self.store.address_nets for state in self.store.cone(net).states]
        for state in (*self.states, *aliases):
            if self.store.edge(state):
                return self.store.edge(state)
        return "rise"

    def after_reset(self) -> dict[StateBit, int]:
        """The states while the machine is held in reset, as far as reset settles them."""
        known: dict[StateBit, Lanes] = {}
        aliases = tuple(self.store.known_aliases)
        for _ in range(_RESET_CLOCKS):
            edge = Edge(self.store.whole, 1, {}, known, self.netlist.clock, rising=self.edge == "rise", reset=True)
            levels = {state: edge.before.state(state) for state in (*self.states, *aliases)}
            known = {state: level for state, level in levels.items() if level[0] | level[1]}
            if set(self.states) <= set(known):
                break
            moved = Edge(self.store.whole, 1, {}, known, self.netlist.clock, rising=self.edge == "rise", reset=True)
            levels = {state: moved.next(state) for state in (*self.states, *aliases)}
            known = {state: level for state, level in levels.items() if level[0] | level[1]}
        return {state: level[0] for state, level in known.items()}

    # ---- one clock further

    def step(
        self,
        width: int,
        states: Mapping[StateBit, Lanes],
        word: Mapping[NetId, Lanes],
        before: Mapping[NetId, Lanes],
        *,
        outside: Mapping[Role, Lanes] = {},
        decode: Mapping[NetId, Lanes] = {},
    ) -> dict[StateBit, Lanes]:
        """The states after one clock: ``word`` is what the store shows, ``before`` the word of the step before."""
        given, inside = placed(self.store, word, outside)
        inside.update(self._registered(word, before))
        edge = Edge(
            self.store.whole,
            width,
            {**given, **decode},
            {**inside, **states},
            self.netlist.clock,
            rising=self.edge == "rise",
        )
        return {state: edge.next(state) for state in self.states}

    def _registered(self, word: Mapping[NetId, Lanes], before: Mapping[NetId, Lanes]) -> dict[StateBit, Lanes]:
        """What control registers hold at the edge: the word before, or already this one where they take it at the
        other edge of the clock."""
        found: dict[StateBit, Lanes] = {}
        for state, role in self.store.known_aliases.items():
            source = before if self.store.edge(state) == self.edge else word
            if role.index in source:
                found[state] = source[role.index]
        return found

    def follow(
        self,
        width: int,
        states: Mapping[StateBit, Lanes],
        word: Mapping[NetId, Lanes],
        before: Mapping[NetId, Lanes],
        *,
        outside: Mapping[Role, Lanes] = {},
        then: Mapping[Role, Lanes] = {},
        decode: Mapping[NetId, Lanes] = {},
    ) -> dict[NetId, Lanes]:
        """The next address, by address net. ``outside``: levels before the edge, ``then``: levels after it."""
        moved = self.step(width, states, word, before, outside=outside, decode=decode)
        given, inside = placed(self.store, word, then)
        for net in word:
            given.pop(net, None)
        settling = self.store.settling(width, given, {**inside, **moved})
        return {net: settling.net(net) for net in self.store.address_nets}

    def address_at(self, states: Mapping[StateBit, int]) -> dict[NetId, Lanes]:
        """The address nets in given states, unknown where something else decides."""
        levels = {state: ((1, 0) if level else (0, 1)) for state, level in states.items()}
        settling = self.store.settling(1, {}, levels)
        return {net: settling.net(net) for net in self.store.address_nets}

    # ---- facts

    def opcode_takes(self, word: Mapping[NetId, int]) -> bool:
        """Whether a step with this word takes a new opcode: its registers then do not hold what they had."""
        lanes = {net: ((3, 0) if level else (0, 3)) for net, level in word.items()}
        given, inside = placed(self.store, lanes, {})
        for state in self.opcode_states:
            held = {**inside, state: (2, 1)}
            rising = self.store.edge(state) != "fall"
            if Edge(self.store.whole, 2, given, held, self.netlist.clock, rising=rising).next(state) != (2, 1):
                return True
        return False

    @cached_property
    def opcode_states(self) -> tuple[StateBit, ...]:
        """The register bits that hold the opcode; () where no register does."""
        return tuple(state for state, (role, _) in self.store.named_states.items() if role.kind == "opcode")

    @cached_property
    def opcode_lag(self) -> int:
        """Steps from the one that takes the opcode to the first whose word is looked up with it."""
        if not self.opcode_states:
            return 0
        cones = [next_cone(self.store.whole, state, self.store.named) for state in self.opcode_states]
        registered = any(cone.states & set(self.store.known_aliases) for cone in cones)
        return self.lag(self.opcode_states[0], registered)

    def lag(self, state: StateBit, registered: bool) -> int:
        """Steps until the lookup sees what a register took by order of a word, in half clocks and then whole ones."""
        control = {self.store.edge(alias) == self.edge for alias in self.store.known_aliases}
        same = control != {False}
        start = (2 if same else 1) if registered else 0
        ticks = 2 if self.store.edge(state) == self.edge else 1
        taken = next(half for half in range(start + 1, start + 4) if half % 2 == ticks % 2)
        if not self.store.known_aliases:
            return -(-taken // 2)
        captured = 2 if same else 1
        return next(step for step in range(8) if taken < 2 * step + captured)

    def facts(self) -> Sequencing:
        """What rules and other tools reuse."""
        delay = max((cone.delay for cone in self.lines.cones.values()), default=0)
        return Sequencing(self.form, delay, self.opcode_lag, self.states, tuple(self._uses()))

    def _uses(self) -> Iterable[ConditionUse]:
        names = {role.name: role for role in self.store.named.values() if role.kind == "condition"}
        at_address = {literal.role.name for literal in self.address if literal.role.kind == "condition"}
        chosen = {name for net in self.store.address_nets for name in self._conditions_at(net)} - at_address
        selected = {role.name for cone in self.lines.cones.values() for role in cone.outside}
        steering = {name for state in self.states for name in self._conditions_into(state)}
        registered = bool(self.store.known_aliases)
        for name in sorted(names):
            lag = self._flag_lag(name, registered)
            if name in at_address:
                yield ConditionUse(name, "address", lag)
            if name in selected:
                yield ConditionUse(name, "selector", 1)
            if name in chosen:
                yield ConditionUse(name, "next", lag)
            elif name in steering and self.form == "next":
                yield ConditionUse(name, "next", 1 + lag)

    def _flag_lag(self, name: str, registered: bool) -> int:
        for state, (role, _) in self.store.named_states.items():
            if role.kind == "condition" and role.name == name:
                return self.lag(state, registered)
        return 1

    def _conditions_at(self, net: NetId) -> set[str]:
        cone = self.store.cone(net)
        roles = [self.store.named[cut] for cut in cone.nets] + [self.store.state_role(at)[0] for at in cone.states]
        return {role.name for role in roles if role.kind == "condition"}

    def _conditions_into(self, state: StateBit) -> set[str]:
        cone = next_cone(self.store.whole, state, self.store.named)
        roles = [self.store.named[cut] for cut in cone.nets] + [self.store.state_role(at)[0] for at in cone.states]
        return {role.name for role in roles if role.kind == "condition"}


def sequencing_of(netlist: Netlist, binding: MicroprogramBinding) -> Sequencing:
    """The facts about a machine with a microprogram. ValueError where a store chip is no plain memory."""
    store = StoreWiring(netlist, binding)
    return Sequencer(store, Lines(store)).facts()
