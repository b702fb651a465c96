"""Everything that the parts of lowering work with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.lanes import Lanes, variables
from latchwork.analysis.lines import Lines
from latchwork.analysis.sequencing import Sequencer
from latchwork.analysis.settle import StateBit
from latchwork.analysis.store import Role, StoreWiring
from latchwork.languages.microprogram.errors import Findings
from latchwork.languages.microprogram.lowering.blocks import Blocks
from latchwork.languages.microprogram.lowering.needs import Circumstances
from latchwork.languages.microprogram.lowering.origins import unknown_origin
from latchwork.languages.microprogram.lowering.rows import PlacedRow, Sight
from latchwork.languages.microprogram.lowering.solver import Solver
from latchwork.languages.microprogram.lowering.wishes import Cube, Vocabulary, Wish
from latchwork.languages.microprogram.lowering.words import find_words
from latchwork.model import ControlProgram, MicroprogramBinding
from latchwork.netlist import NetId, Netlist
from latchwork.netlist.queries import chip_name

_MOST_STATES = 16


@dataclass
class Context:
    netlist: Netlist
    binding: MicroprogramBinding
    store: StoreWiring
    lines: Lines
    sequencer: Sequencer
    solver: Solver
    blocks: Blocks
    vocabulary: Vocabulary
    sight: Sight
    findings: Findings
    previous: ControlProgram | None = None

    def find_words(self, rows: Sequence[PlacedRow]) -> None:
        find_words(rows, self.solver, self.vocabulary, self.sight, self.findings)

    @cached_property
    def resting(self) -> PlacedRow:
        """A row in which every line is at rest."""
        row = PlacedRow("", 0, self.vocabulary.at_rest, Circumstances(), [], False, self.binding.position)
        self.find_words([row])
        return row

    # ---- the address

    def bits_of(self, kind: str) -> list[tuple[int, Role, bool]]:
        """(bit of the logical address, role, inverted) for the address nets with roles of a kind."""
        literals = enumerate(self.sequencer.address)
        return [(bit, each.role, each.inverted) for bit, each in literals if each.role.kind == kind]

    def address_conditions(self) -> tuple[str, ...]:
        """The conditions at the store's address."""
        return tuple(sorted({role.name for _, role, _ in self.bits_of("condition")}))

    def condition_bits(self, cube: Cube, interrupt: int) -> int:
        """The part of the logical address that conditions and the interrupt make."""
        levels = dict(cube)
        address = 0
        for bit, role, inverted in self.bits_of("condition"):
            true = levels[role.name]
            address |= ((role.level if true else 1 - role.level) ^ inverted) << bit
        for bit, _, inverted in self.bits_of("interrupt"):
            address |= (interrupt ^ inverted) << bit
        return address

    def free_addresses(self, fixed: int, kinds: Iterable[str] = ("condition", "interrupt", "opcode")) -> list[int]:
        """The addresses with a fixed part, and any level at the pins with roles of these kinds."""
        found = [fixed]
        for kind in kinds:
            for bit, _, _ in self.bits_of(kind):
                found = [address & ~(1 << bit) | level << bit for address in found for level in (0, 1)]
        return found

    def state_bits(self, levels: Mapping[StateBit, int]) -> int:
        """The part that register bits make."""
        return sum((levels[role.state] ^ inverted) << bit for bit, role, inverted in self.bits_of("state"))

    # ---- what follows what

    @cached_property
    def start(self) -> dict[StateBit, int] | None:
        """The register bits of the sequence after reset; noted as a problem where reset does not settle them."""
        reset = self.sequencer.after_reset()
        missing = [state for state in self.sequencer.states if state not in reset]
        if not missing:
            return {state: reset[state] for state in self.sequencer.states}
        if self.binding.fetch_address >= 0 and self.following:
            return self.levels(self.binding.fetch_address)
        stray = [
            each for each in self.sequencer.address if each.role.state in missing and not self.counts(each.role.state)
        ]
        for literal in stray:
            unknown_origin(self, literal)
        return None if stray else self._led_back()

    def _led_back(self) -> dict[StateBit, int] | None:
        """Where some line leads, whatever the counter shows: the first step of a machine without reset."""
        for line in self.netlist.lines:
            if line.name not in self.lines.cones:
                continue
            word = self.word_with(line.name)
            moved = self.sequencer.step(1, {}, word, word) if word else {}
            if moved and all(level[0] | level[1] for level in moved.values()):
                return {state: level[0] for state, level in moved.items()}
        chips = sorted({state.chip for state in self.sequencer.states})
        names = " and ".join(chip_name(self.netlist, chip) for chip in chips)
        message = f"what {names} hold{'s' * (len(chips) == 1)} after reset cannot be told"
        hint = (
            "join the clear of the counter to a net of `m.power_on_reset()`, or to a line that leads to the first step"
        )
        self.findings.add("U232", message, *[self.netlist.chips[chip].position for chip in chips], help=hint)
        return None

    def word_with(self, line: str) -> dict[NetId, Lanes]:
        """A word with one line active and all others at rest; nothing where there is none."""
        from latchwork.languages.microprogram.lowering.wishes import Case

        wish = Wish((Case((), ((line, self.netlist.line_named[line].active),)),))
        row = PlacedRow("", 0, wish, Circumstances(), [], False)
        quiet = Findings()
        find_words([row], self.solver, self.vocabulary, self.sight, quiet)
        return {} if quiet.problems else in_lanes([row], self.lines.reached)

    @cached_property
    def following(self) -> dict[int, int] | None:
        """Micro-address -> the next one while all lines are at rest; see ``order``."""
        counted = self._counted
        if counted is None:
            return None
        moves = _numbers(counted)
        place = {bit: self.order.index(state) for bit, state in enumerate(self.sequencer.states)}
        return {_moved(number, place): _moved(moves[number], place) for number in range(len(moves))}

    @cached_property
    def order(self) -> tuple[StateBit, ...]:
        """The register bits of the sequence, lowest first: the one that changes most often counts 1."""
        counted = self._counted
        if counted is None:
            return self.sequencer.states
        changes = [(one ^ was[0]).bit_count() for one, was in zip(counted, variables(len(counted)), strict=True)]
        ranked = sorted(zip(changes, self.sequencer.states, strict=True), key=lambda pair: (-pair[0], pair[1]))
        return tuple(state for _, state in ranked)

    def counts(self, state: StateBit) -> bool:
        """Whether a register bit changes as steps go by in which every line is at rest."""
        counted, states = self._counted, self.sequencer.states
        if counted is None:
            return True
        place = states.index(state)
        return counted[place] != variables(len(states))[place][0]

    @cached_property
    def _counted(self) -> list[int] | None:
        """For each register bit its next value in every state, one lane a state."""
        states = self.sequencer.states
        if len(states) > _MOST_STATES:
            message = f"the store's address follows from {len(states)} register bits, {_MOST_STATES} is the most"
            self.findings.add("U229", message, self.binding.position)
            return None
        width = 1 << len(states)
        rest = in_lanes([self.resting], self.lines.reached, width)
        now = dict(zip(states, variables(len(states)), strict=True))
        moved = self.sequencer.step(width, now, rest, rest)
        for state, level in moved.items():
            if level[0] | level[1] != (1 << width) - 1:
                self._unsure(state)
                return None
        return [moved[state][0] for state in states]

    def _unsure(self, state: StateBit) -> None:
        """The next value of a register bit cannot be told: say on what else it hangs."""
        from latchwork.analysis.edges import next_cone

        cone = next_cone(self.store.whole, state, self.store.named)
        known = {*self.sequencer.states, *self.store.settling(1, {}, {}).states}
        reasons = [f"the switch {self.netlist.chips[chip].reference}" for chip, _ in sorted(cone.switches)]
        reasons += [f"a state of {chip_name(self.netlist, at.chip)}" for at in sorted(cone.states - known)
                    if self.store.state_role(at)[0].kind == "state"]  # fmt: skip
        reasons += [f"`{self.netlist.nets[net].name}`" for net in sorted(cone.undriven)]
        reasons += [f"`{self.netlist.nets[net].name}`" for net in sorted(cone.nets) if net not in self.store.word_nets]
        chip = chip_name(self.netlist, state.chip)
        reason = f"; it hangs on {reasons[0]}" if reasons else ""
        message = f"what {chip} does in a step that asks for nothing cannot be told{reason}"
        hint = "state what is constant while the machine runs with `m.assume`"
        self.findings.add("U229", message, self.netlist.chips[state.chip].position, help=hint)

    def number(self, levels: Mapping[StateBit, int]) -> int:
        """The micro-address that register bits make."""
        return sum(levels[state] << bit for bit, state in enumerate(self.order))

    def levels(self, number: int) -> dict[StateBit, int]:
        return {state: number >> bit & 1 for bit, state in enumerate(self.order)}

    def states_in_lanes(self, numbers: Sequence[int]) -> dict[StateBit, Lanes]:
        """Micro-addresses side by side, one lane each."""
        full = (1 << len(numbers)) - 1
        ones = [
            sum((number >> bit & 1) << lane for lane, number in enumerate(numbers)) for bit in range(len(self.order))
        ]
        return {state: (one, full ^ one) for state, one in zip(self.order, ones, strict=True)}


def in_lanes(rows: Sequence[PlacedRow], nets: Iterable[NetId], width: int = 0) -> dict[NetId, Lanes]:
    """The words of rows side by side, one lane a row, or one row in ``width`` lanes; bits not found are unknown."""
    repeat = (1 << width) - 1 if width else 1
    found: dict[NetId, Lanes] = {}
    for net in nets:
        ones = sum((row.bits.get(net) == 1) << lane for lane, row in enumerate(rows))
        zeros = sum((row.bits.get(net) == 0) << lane for lane, row in enumerate(rows))
        found[net] = (ones * repeat, zeros * repeat)
    return found


def _numbers(columns: Sequence[int]) -> list[int]:
    """Lane by lane the number whose bits the columns are."""
    width = 1 << len(columns)
    texts = [format(column, f"0{width}b")[::-1] for column in reversed(columns)]
    return [int("".join(bits), 2) for bits in zip(*texts, strict=True)] if columns else [0]


def _moved(number: int, place: Mapping[int, int]) -> int:
    return sum((number >> bit & 1) << to for bit, to in place.items())
