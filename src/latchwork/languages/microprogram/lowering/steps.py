"""The form in which opcode, step counter and flags address the store."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from latchwork.analysis.lanes import UNKNOWN, Lanes
from latchwork.analysis.settle import StateBit
from latchwork.languages.microprogram.errors import counted
from latchwork.languages.microprogram.flat import FlatBlock
from latchwork.languages.microprogram.lowering.context import Context, in_lanes
from latchwork.languages.microprogram.lowering.early import check_early
from latchwork.languages.microprogram.lowering.needs import Circumstances
from latchwork.languages.microprogram.lowering.origins import unknown_origin
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.languages.microprogram.lowering.wishes import Cube, Wish

_Key = tuple[str, int, Cube, Wish]


class StepsForm:
    """Places every step of every opcode at its addresses, and finds the words."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.blocks = context.blocks
        self.slots = tuple(self._slots())
        self._rows: dict[_Key, PlacedRow] = {}
        self._opcodes: dict[_Key, set[int]] = {}

    def _slots(self) -> Iterator[int]:
        """State numbers from the first step on, until one comes again."""
        start, following = self.context.start, self.context.following
        if start is None or following is None:
            return
        number, seen = self.context.number(start), set()
        while number not in seen:
            seen.add(number)
            yield number
            number = following[number]

    def rows(self) -> list[PlacedRow]:
        """All rows with their words."""
        self._check_counting()
        self._place_all()
        rows = [*self._rows.values()]
        self.context.findings.stop_if_any()
        self.context.find_words(rows)
        self.context.findings.stop_if_any()
        check_early(self.context, self._by_place())
        self._check_reached()
        return rows

    def _check_counting(self) -> None:
        """A register bit at the address that does not count steps, but may change, is not the step counter's."""
        slots = [self.context.levels(number) for number in self.slots]
        nothing = dict.fromkeys(self.context.lines.reached, UNKNOWN)
        for literal in self.context.sequencer.address:
            state = literal.role.state
            if literal.role.kind != "state" or not slots or len({levels[state] for levels in slots}) > 1:
                continue
            held = self.context.states_in_lanes([self.slots[0]])
            if self.context.sequencer.step(1, held, nothing, nothing)[state] != held[state]:
                unknown_origin(self.context, literal)
        self.context.findings.stop_if_any()

    # ---- placing

    def _place_all(self) -> None:
        for block in self.blocks.program.blocks:
            self._check_length(block)
        for pattern, opcodes in self._patterns().items():
            block = self._the_block(opcodes)
            for interrupt in (0, 1) if self.context.bits_of("interrupt") else (0,):
                asked = self.blocks.entry if interrupt else None
                self._place(asked or block, pattern, opcodes, interrupt)
        for key, row in self._rows.items():
            row.where = Circumstances(row.where.conditions, frozenset(self._opcodes[key]))

    def _check_length(self, block: FlatBlock) -> None:
        if len(block.steps) > len(self.slots) > 0:
            steps = counted(len(block.steps), "step")
            message = f"`{block.name}` has {steps}, the step counter tells {len(self.slots)} apart"
            hint = "join another bit of the counter to an address pin of the store, or save a step"
            self.context.findings.add("U230", message, block.steps[len(self.slots)].position, block.position, help=hint)

    def _patterns(self) -> dict[int, list[int]]:
        """The part of the address that the opcode makes -> the opcodes that make it."""
        bits = self.context.bits_of("opcode")
        found: dict[int, list[int]] = {}
        for opcode in range(1 << self.blocks.width):
            pattern = sum(((opcode >> role.index & 1) ^ inverted) << bit for bit, role, inverted in bits)
            found.setdefault(pattern, []).append(opcode)
        return found

    def _the_block(self, opcodes: Sequence[int]) -> FlatBlock:
        first = self.blocks.by_opcode[opcodes[0]]
        for opcode in opcodes[1:]:
            other = self.blocks.by_opcode[opcode]
            if other.name != first.name and self.blocks.wishes(other) != self.blocks.wishes(first):
                self._not_apart(first, other, opcodes[0] ^ opcode)
                break
        return first

    def _not_apart(self, first: FlatBlock, other: FlatBlock, bits: int) -> None:
        netlist, opcode = self.context.netlist, self.context.binding.opcode
        names = [netlist.nets[opcode[bit]].name for bit in range(bits.bit_length()) if bits >> bit & 1]
        told = " and ".join(f"`{name}`" for name in names)
        message = f"`{first.name}` and `{other.name}` differ only in {told}, which no address pin of the store sees"
        self.context.findings.add("U224", message, first.position, other.position, self.context.binding.position)

    def _place(self, block: FlatBlock, pattern: int, opcodes: Sequence[int], interrupt: int) -> None:
        wishes = self.blocks.wishes(block)
        for step, number in enumerate(self.slots):
            wish = wishes[step] if step < len(wishes) else self.context.vocabulary.at_rest
            name = self._name(block, step)
            place = pattern | self.context.state_bits(self.context.levels(number))
            for cube in self._cubes(step, block):
                key = (name, step if name else 0, cube if name else (), wish)
                row = self._row(key, block, step)
                row.addresses += self._addresses(place, cube, interrupt)
                self._opcodes.setdefault(key, set()).update(opcodes)

    def _name(self, block: FlatBlock, step: int) -> str:
        if step >= len(block.steps):
            return ""
        return self.blocks.fetch if step < self.blocks.prefix(block) else block.name

    def _cubes(self, step: int, block: FlatBlock) -> list[Cube]:
        """The levels of those address conditions that the step speaks of; the others may have either."""
        if step >= len(block.steps):
            return [()]
        spoken = {name for branch in block.steps[step].branches for name, _ in branch.conditions}
        names = [name for name in self.context.address_conditions() if name in spoken]
        return [tuple(zip(names, levels, strict=True)) for levels in product((0, 1), repeat=len(names))]

    def _addresses(self, place: int, cube: Cube, interrupt: int) -> Iterator[int]:
        known = dict(cube)
        names = self.context.address_conditions()
        for levels in product(*((known[name],) if name in known else (0, 1) for name in names)):
            yield place | self.context.condition_bits(tuple(zip(names, levels, strict=True)), interrupt)

    def _row(self, key: _Key, block: FlatBlock, step: int) -> PlacedRow:
        if key not in self._rows:
            name, number, cube, wish = key
            position = block.steps[step].position if name else block.position
            self._rows[key] = PlacedRow(name, number, wish, Circumstances(cube), [], bool(name), position)
        return self._rows[key]

    # ---- what comes after what

    def _by_place(self) -> dict[tuple[str, int], list[PlacedRow]]:
        """(block, step) -> its rows; steps past the end of a block lie at the row that asks for nothing."""
        found: dict[tuple[str, int], list[PlacedRow]] = {}
        for block in (*self.blocks.program.blocks, self.blocks.illegal):
            for step, wish in enumerate(self.blocks.wishes(block)):
                keys = [(self._name(block, step), step, cube, wish) for cube in self._cubes(step, block)]
                found[block.name, step] = [self._rows[key] for key in keys if key in self._rows]
        return found

    def _check_reached(self) -> None:
        """Every step is come to from the first, whatever the conditions say."""
        rows = self._by_place()
        for block in self.blocks.program.blocks:
            if not all(rows[block.name, step] for step in range(len(block.steps))):
                continue
            leads = self._leads(block, rows)
            reached, waiting = {0}, [0]
            while waiting:
                for step in leads.get(waiting.pop(), ()):
                    if step not in reached:
                        reached.add(step)
                        waiting.append(step)
            missing = [step for step in range(len(block.steps)) if step not in reached]
            if missing:
                self._unreached(block, missing[0], reached)

    def _unreached(self, block: FlatBlock, step: int, reached: set[int]) -> None:
        before = max(number for number in reached if number < step)
        message = f"step {step} of `{block.name}` is never reached: step {before} does not lead on to it"
        hint = "take what ends the instruction out of the earlier step, or drop the steps after it"
        places = (block.steps[step].position, block.steps[before].position)
        self.context.findings.add("U231", message, *places, help=hint)

    def _leads(self, block: FlatBlock, rows: dict[tuple[str, int], list[PlacedRow]]) -> dict[int, set[int]]:
        """Step -> the steps that may follow it."""
        pairs = [
            (step, row, before)
            for step in range(len(block.steps))
            for row in rows[block.name, step]
            for before in (rows[block.name, step - 1] if step else [self.context.resting])
        ]
        words, befores = ([pair[place] for pair in pairs] for place in (1, 2))
        moved = self._moved([self.slots[pair[0]] for pair in pairs], words, befores)  # type: ignore[arg-type]
        found: dict[int, set[int]] = {}
        for lane, (step, _, _) in enumerate(pairs):
            found.setdefault(step, set()).update(self._may_be(moved, lane))
        return found

    def _moved(
        self, numbers: Sequence[int], rows: Sequence[PlacedRow], befores: Sequence[PlacedRow]
    ) -> dict[StateBit, Lanes]:
        width, nets = len(numbers), self.context.lines.reached
        states = self.context.states_in_lanes(numbers)
        return self.context.sequencer.step(width, states, in_lanes(rows, nets), in_lanes(befores, nets))

    def _may_be(self, moved: dict[StateBit, Lanes], lane: int) -> Iterator[int]:
        """The slots that agree with what is known of the next state."""
        levels = [moved[state] for state in self.context.order]
        for step, number in enumerate(self.slots):
            if not any(level[1 - (~number >> bit & 1)] >> lane & 1 for bit, level in enumerate(levels)):
                yield step
