"""What happened before a step: which registers can have changed with the edge that begins it.

A register that holds, step after step, does not start a way anew. Its *age* in a step is how many clocks ago it can
have changed at the latest: 0 with the edge that begins the step. A way from a register of age 2 has two clocks more.
Beyond ``OLDEST`` an age counts as ``OLDEST``, which is on the safe side.

Steps come in the order of their blocks: in the form "steps" a row follows on those of the step before in its block
(or in any block, where a shared beginning ends), and every first row on any row. A row that may halt the machine
follows on itself; so does each row where something else than control words holds the step counter. In the other forms
any row may follow on any.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property

from latchwork.analysis.arrival.graph import Arc
from latchwork.analysis.arrival.senses import FALL, RISE, Kind, Place, part_arcs, signs
from latchwork.analysis.arrival.step_lanes import Step
from latchwork.analysis.control_words import ControlWords
from latchwork.analysis.edges import edge_of, next_cone
from latchwork.analysis.lanes import Evaluation
from latchwork.analysis.levels import MARKED, Bit, Lanes, Leaf
from latchwork.analysis.lines import Lines
from latchwork.analysis.sequencing import Sequencer
from latchwork.analysis.settle import StateBit
from latchwork.analysis.store import StoreWiring
from latchwork.logic import Expression
from latchwork.netlist import ChipId, NetId
from latchwork.netlist.netlist import NO_NET
from latchwork.parts import Register

OLDEST = 3


class Flow:
    """``lanes``: the levels of the ``steps``, a lane each."""

    def __init__(self, words: ControlWords, steps: Sequence[Step], lanes: Lanes) -> None:
        self.words, self.steps, self.lanes = words, steps, lanes
        self.netlist, self.model = words.netlist, words.model
        self._after: dict[int, int] = {}
        self._changes: dict[tuple[ChipId, str, int], int] = {}

    # ---- the order of steps

    @cached_property
    def _sequencer(self) -> Sequencer | None:
        binding = self.model.statements.microprogram
        if binding is None:
            return None
        store = StoreWiring(self.netlist, binding)
        return Sequencer(store, Lines(store))

    @cached_property
    def edge(self) -> int | None:
        """The edge of the main clock with which steps begin; None where that is not one for all control registers."""
        if self._sequencer is None:
            return None
        whole, clock = self._sequencer.store.whole, self.netlist.clock
        leaves = self.words.registered
        edges = {edge_of(whole, StateBit(leaf.place, leaf.name, leaf.bit), clock) for leaf in leaves}
        found = edges or {self._sequencer.edge}
        return {"rise": RISE, "fall": FALL}.get(found.pop()) if len(found) == 1 else None

    @cached_property
    def before(self) -> tuple[int, ...]:
        """For each lane those that may be at work one clock before, as a mask."""
        every = self.lanes.all
        if self.words.control is None or self.words.control.form != "steps":
            return (every,) * len(self.steps)
        by_step: dict[int, int] = {}
        in_block: dict[tuple[str, int], int] = {}
        for lane, step in enumerate(self.steps):
            for row in step.rows:
                by_step[row.step] = by_step.get(row.step, 0) | 1 << lane
                in_block[row.block, row.step] = in_block.get((row.block, row.step), 0) | 1 << lane
        return tuple(
            self._before(lane, step, by_step, in_block) | (self._holding & 1 << lane)
            for lane, step in enumerate(self.steps)
        )

    def _before(self, lane: int, step: Step, by_step: dict[int, int], in_block: dict[tuple[str, int], int]) -> int:
        found = 0
        for row in step.rows:
            earlier = row.step - 1
            found |= self.lanes.all if earlier < 0 else in_block.get((row.block, earlier)) or by_step.get(earlier, 0)
        return found if step.rows else self.lanes.all

    @cached_property
    def _holding(self) -> int:
        """The lanes in which the machine may stay where it is."""
        if self._waits():
            return self.lanes.all
        found = 0
        for halt in self.model.statements.halts:
            level = self.lanes.net(halt.net)
            found |= level.one if halt.level else level.zero
        return found

    def _waits(self) -> bool:
        """Whether the step counter depends on more than itself, control words, opcode and conditions."""
        assert self._sequencer is not None
        store = self._sequencer.store
        for state in self._sequencer.states:
            cone = next_cone(store.whole, state, store.named)
            roles = {store.state_role(at)[0].kind for at in cone.states} | {store.named[net].kind for net in cone.nets}
            if cone.switches or not roles <= {"state", "word", "opcode", "condition", "constant", "decode"}:
                return True
        return False

    def after(self, mask: int) -> int:
        """The lanes that may follow on those of a mask."""
        if mask not in self._after:
            found = 0
            for lane, before in enumerate(self.before):
                if before & mask:
                    found |= 1 << lane
            self._after[mask] = found
        return self._after[mask]

    # ---- ages

    def ages(self, arc: Arc) -> tuple[int, ...]:
        """For an arc from a clock, the lanes in which what it shows has the age 0, 1, ... ``OLDEST``."""
        every = self.lanes.all
        if arc.part_arc is None or arc.kind is not Kind.CLOCK:
            return (every,)
        now, found, taken = self._changed(arc), [], 0
        for age in range(OLDEST + 1):
            mask = (every if age == OLDEST else now) & ~taken
            found.append(mask)
            taken |= mask
            now = self.after(now)
        return tuple(found)

    def _changed(self, arc: Arc) -> int:
        """The lanes that begin with a change of the state bits which the end of an arc shows."""
        own = arc.part_arc
        assert own is not None
        part = self.netlist.part_of(arc.chip)
        drive = part.behaviour.drives[own.drive]
        places = set(signs(drive.value, own.bit)) | (set(signs(drive.enable)) if drive.enable is not None else set())
        found = 0
        for place in places:
            if place.name == own.state:
                found |= self._change_of(arc.chip, place)
        return found

    def _change_of(self, chip: ChipId, place: Place) -> int:
        key = (chip, *place)
        if key not in self._changes:
            leaf = Leaf("state", chip, place.name, place.bit)
            level = self.lanes.given.leaves.get(leaf)
            self._changes[key] = self._word_bit(level) if level is not None else self.after(self._takes(chip, place))
        return self._changes[key]

    def _word_bit(self, level: Bit) -> int:
        """A bit of the word at work: where one of the other level may have been before."""
        return self.after(level.zero) & level.one | self.after(level.one) & level.zero

    def _takes(self, chip: ChipId, place: Place) -> int:
        """The lanes at whose end a state bit may become another."""
        behaviour = self.netlist.part_of(chip).behaviour
        register = next((item for item in behaviour.registers if item.name == place.name), None)
        if register is None:
            return self.lanes.all
        found = self._set_by_level(chip, register)
        for update in register.updates:
            clock = self.lanes.bit(chip, update.clock, 0)
            low, high = (self._next(chip, place, update.data, level) for level in (0, 1))
            found |= (low.one | high.zero) & clock.one & clock.zero
        return found

    def _set_by_level(self, chip: ChipId, register: Register) -> int:
        """The lanes in which a level set or clear is not known to rest: reset aside, it may move at any time."""
        found = 0
        for level in register.levels:
            active = self.lanes.bit(chip, level.active, 0)
            known = active.zero & ~active.one
            pins = [place for place in signs(level.active) if place.name in self.netlist.part_of(chip).ports]
            if any(not self._resets(chip, place) for place in pins):
                found |= self.lanes.all & ~known
        return found

    def _resets(self, chip: ChipId, place: Place) -> bool:
        """Whether a pin follows from nothing that the clock moves, as reset lines do."""
        return self.netlist.nets_of(chip, place.name)[place.bit] not in self._moving

    @cached_property
    def _moving(self) -> frozenset[NetId]:
        """The nets that the clock moves, or something clocked."""
        found, waiting = {self.netlist.clock}, [self.netlist.clock]
        while waiting:
            for at in self.netlist.pins_on[waiting.pop()]:
                pins = self.netlist.chips[at.chip].pins
                for arc in part_arcs(self.netlist.part_of(at.chip)):
                    net = pins[arc.end]
                    if arc.start == at.pin and net != NO_NET and net not in found:
                        found.add(net)
                        waiting.append(net)
        return frozenset(found)

    def _next(self, chip: ChipId, place: Place, data: Expression, level: int) -> Bit:
        held = _Held(self.lanes, chip, place, level)
        return Evaluation(self.lanes.all, held, MARKED).bit(data, place.bit)


class _Held:
    """A chip's inside with one state bit at a level."""

    def __init__(self, lanes: Lanes, chip: ChipId, place: Place, level: int) -> None:
        self._lanes, self._chip, self._place, self._level = lanes, chip, place, level

    def variable(self, name: str, bit: int) -> Bit:
        if name == self._place.name and bit == self._place.bit:
            return self._lanes.constant(self._level)
        return self._lanes.variable(self._chip, name, bit)

    def memory(self, read: Expression, address: Callable[[], Sequence[Bit]], bit: int) -> Bit:
        return self._lanes.read(self._chip, read, address, bit)
