"""The form in which decode ROMs turn the opcode into a start address that a counter loads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from latchwork.languages.microprogram.errors import listed
from latchwork.languages.microprogram.flat import FlatBlock
from latchwork.languages.microprogram.lowering.context import Context, in_lanes
from latchwork.languages.microprogram.lowering.early import check_dispatch
from latchwork.languages.microprogram.lowering.needs import Circumstances
from latchwork.languages.microprogram.lowering.outcomes import DISPATCH, HOME, LOST, ON, STAY, Outcomes
from latchwork.languages.microprogram.lowering.places import Need, Places, settings_by_block, settings_of
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.languages.microprogram.lowering.wishes import Cube
from latchwork.netlist import NetId

_MOST_TRAILING = 3


class StartForm:
    """Places blocks in the store, finds the words, and what the decode ROMs hold."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.blocks = context.blocks
        self.findings = context.findings
        self.starts: dict[str, int] = {}
        self._steps: dict[str, list[list[PlacedRow]]] = {}
        self._trailing: dict[str, int] = {}

    def rows(self) -> list[PlacedRow]:
        """All rows with their words and addresses."""
        start = self.context.start
        if start is None or self.context.following is None:
            return []
        self._home = self.context.number(start)
        self._make_rows()
        rows = [row for steps in self._steps.values() for step in steps for row in step]
        self.context.find_words(rows)
        self.findings.stop_if_any()
        self._outcomes = Outcomes(self.context, self._home)
        self._check_flow()
        fetch = {(self.fetch, step): rows for step, rows in enumerate(self._steps[self.fetch])}
        check_dispatch(self.context, fetch, len(fetch), self._late())
        self.findings.stop_if_any()
        return self._placed(rows)

    def _late(self) -> int:
        """1 where the opcode has to be there a clock before the address that it leads to."""
        states = self.context.sequencer.opcode_states
        return int(bool(states) and self.context.store.edge(states[0]) == self.context.sequencer.edge)

    # ---- rows

    @property
    def fetch(self) -> str:
        return self.blocks.fetch

    def _own(self) -> list[FlatBlock]:
        """The blocks that the decode ROMs lead to."""
        illegal = [self.blocks.illegal] if self.blocks.opcodes_of(self.blocks.illegal) else []
        named = [block for block in illegal if block in self.blocks.program.blocks]
        return [*self.blocks.instructions, *named]

    def _make_rows(self) -> None:
        first = self.blocks.first
        prefix = self.blocks.prefix(first)
        if not prefix:
            message = "instructions begin with nothing in common; a machine with decode ROMs first fetches the opcode"
            self.findings.add("U234", message, first.position, help="write what all begin with as `shared` steps")
            self.findings.stop_if_any()
        self._steps[self.fetch] = self._rows_of(first, 0, prefix, self.fetch)
        for block in self._own():
            if self.blocks.wishes(block)[:prefix] != self.blocks.wishes(first)[:prefix]:
                self._begins_otherwise(block, first)
            elif len(block.steps) <= prefix:
                message = f"`{block.name}` has no steps of its own, and `{self.fetch}` leads to them by the opcode"
                self.findings.add("U235", message, block.position, help="add a step that leads back to the first")
            self._steps[block.name] = self._rows_of(block, prefix, len(block.steps), block.name)
        if self.blocks.entry:
            entry = self.blocks.entry
            self._steps[entry.name] = self._rows_of(entry, 0, len(entry.steps), entry.name)
        self.findings.stop_if_any()

    def _begins_otherwise(self, block: FlatBlock, first: FlatBlock) -> None:
        message = f"`{block.name}` does not begin with the steps of `{self.fetch}`, as `{first.name}` does"
        self.findings.add("U225", message, block.position, first.position, help=f"begin it with `{self.fetch}`")

    def _rows_of(self, block: FlatBlock, low: int, high: int, name: str) -> list[list[PlacedRow]]:
        wishes = self.blocks.wishes(block)
        opcodes = None if name == self.fetch or block.kind == "entry" else self.blocks.opcodes_of(block)
        return [
            [
                PlacedRow(name, step, wishes[step], Circumstances(cube, opcodes), [], True, block.steps[step].position)
                for cube in self._cubes(block, step)
            ]
            for step in range(low, high)
        ]

    def _cubes(self, block: FlatBlock, step: int) -> list[Cube]:
        spoken = {name for branch in block.steps[step].branches for name, _ in branch.conditions}
        names = [name for name in self.context.address_conditions() if name in spoken]
        return [tuple(zip(names, levels, strict=True)) for levels in product((0, 1), repeat=len(names))]

    # ---- what follows what

    def _check_flow(self) -> None:
        for name, steps in self._steps.items():
            before = [self.context.resting] if name == self.fetch else self._steps[self.fetch][-1]
            for place, rows in enumerate(steps):
                found = self._found(rows, before)
                last = place == len(steps) - 1
                self._check_step(name, steps, place, found, last)
                if last and name != self.fetch:
                    self._trailing[name] = self._trail(name, rows, found)
                before = rows

    def _found(self, rows: Sequence[PlacedRow], before: Sequence[PlacedRow]) -> set[str]:
        pairs = [(row, earlier) for row in rows for earlier in before]
        return set().union(*self._outcomes.of(pairs))

    def _check_step(self, name: str, steps: list[list[PlacedRow]], place: int, found: set[str], last: bool) -> None:
        row = steps[place][0]
        if name == self.fetch and last:
            if found != {DISPATCH}:
                self._no_dispatch(row, found)
        elif DISPATCH in found:
            message = (
                f"{row.named} leads to the start address of an opcode, which only the last step of `{self.fetch}` may"
            )
            self.findings.add("U236", message, row.position, help="take the line that loads the counter out of it")
        elif LOST in found:
            message = f"where the counter goes after {row.named} cannot be told from the wiring"
            self.findings.add("U236", message, row.position, help="state what is constant with `m.assume`")
        elif not last and ON not in found:
            following = steps[place + 1][0]
            message = f"{following.named} is never reached: {row.named} does not lead on to it"
            hint = "take what ends the instruction out of the earlier step, or drop the steps after it"
            self.findings.add("U231", message, following.position, row.position, help=hint)

    def _no_dispatch(self, row: PlacedRow, found: set[str]) -> None:
        ways = {ON: "counts on", HOME: "goes back to the first step", STAY: "stays", LOST: "goes where nothing tells"}
        told = " or ".join(ways[way] for way in sorted(found) if way in ways) or "takes the start address"
        message = f"after the last step of `{self.fetch}` the counter {told}; it should load what the decode ROMs show"
        hint = "ask for the line that loads the counter, in this step or, through a control register, in the one before"
        self.findings.add("U234", message, row.position, help=hint)

    def _trail(self, name: str, rows: Sequence[PlacedRow], found: set[str]) -> int:
        """How many rows that ask for nothing are passed after the last step, until the counter is led back."""
        before: Sequence[PlacedRow] = rows
        count = 0
        while ON in found:
            count += 1
            found = self._found([self.context.resting], before)
            before = [self.context.resting]
            if count > _MOST_TRAILING:
                message = f"`{name}` does not end: after its last step the counter goes on"
                hint = "ask in its last step for the line that leads back to the first"
                self.findings.add("U235", message, rows[0].position, help=hint)
                return 0
        return count

    # ---- placing

    def _placed(self, rows: list[PlacedRow]) -> list[PlacedRow]:
        loads = self._loads()
        self.findings.stop_if_any()
        places = Places(
            self.context.following or {},
            lambda number: self.context.state_bits(self.context.levels(number)),
            lambda number: self._may_load(number, loads),
            self.findings,
        )
        length = max(len(self._steps[self.fetch]), self._entry_at_home())
        if not places.free(self._home, length):
            self.findings.add(
                "U233", f"no room for the steps of `{self.fetch}`", self._steps[self.fetch][0][0].position
            )
            self.findings.stop_if_any()
        self.starts = {self.fetch: self._home}
        places.take(self.fetch, places.run(self._home, length))
        self.starts |= places.allocate(self._needs())
        self.findings.stop_if_any()
        trailing = [row for name in self._steps for row in self._address(name, places)]
        self._loaded = loads
        placed = [*rows, *trailing]
        self.context.find_words(placed)
        return placed

    def _needs(self) -> Iterator[Need]:
        previous = self.context.previous
        before = dict(previous.starts) if previous and previous.form == "start" else {}
        asked = settings_by_block(previous)
        blocks = [*self._own(), *([self.blocks.entry] if self._entry_by_decode() and self.blocks.entry else [])]
        for block in blocks:
            steps = self._steps[block.name]
            same = asked.get(block.name) == settings_of(row for step in steps for row in step)
            length = len(steps) + self._trailing.get(block.name, 0)
            yield Need(block.name, length, block.pinned, before.get(block.name, -1), same, block.position)

    def _entry_at_home(self) -> int:
        """How many places an entry takes that an address pin of the store chooses instead of the first steps."""
        entry = self.blocks.entry
        if entry is None or self._entry_by_decode():
            return 0
        return len(self._steps[entry.name]) + self._trailing.get(entry.name, 0)

    def _entry_by_decode(self) -> bool:
        return self.blocks.entry is not None and not self.context.bits_of("interrupt")

    def _address(self, name: str, places: Places) -> Iterator[PlacedRow]:
        """Gives a block's rows their addresses, and yields the rows that follow its last step."""
        steps = self._steps[name]
        begin = self.starts.get(name, self._home)
        count = len(steps) + self._trailing.get(name, 0)
        for place, number in enumerate(places.run(begin, count)):
            fixed = self.context.state_bits(self.context.levels(number))
            interrupted = self._interrupted(name, place)
            if place < len(steps):
                for row in steps[place]:
                    row.addresses = self._addresses(fixed, row.where.conditions, interrupted)
            else:
                at = steps[-1][0]
                row = PlacedRow("", place, self.context.vocabulary.at_rest, Circumstances(), [], False, at.position)
                row.addresses = self._addresses(fixed, (), interrupted)
                yield row

    def _interrupted(self, name: str, place: int) -> list[int]:
        """The levels of an interrupt at the store's address under which a row is looked up."""
        entry = self.blocks.entry
        if entry is None or self._entry_by_decode():
            return [0, 1]
        if name == self.fetch:
            return [0] if place < self._entry_at_home() else [0, 1]
        return [1] if name == entry.name and place < len(self._steps[self.fetch]) else [0, 1]

    def _addresses(self, fixed: int, cube: Cube, interrupted: Sequence[int]) -> list[int]:
        names = self.context.address_conditions()
        known = dict(cube)
        found: set[int] = set()
        levels_of = [((known[name],) if name in known else (0, 1)) for name in names]
        for interrupt in interrupted:
            for levels in product(*levels_of):
                bits = self.context.condition_bits(tuple(zip(names, levels, strict=True)), interrupt)
                found.update(self.context.free_addresses(fixed | bits, ("opcode",)))
        return sorted(found)

    # ---- the decode ROMs

    def _loads(self) -> list[tuple[NetId, bool] | int]:
        """For each bit of the micro-address the decode net that it takes, inverted or not, or its constant level."""
        nets = self.context.store.decode_nets
        last = self._steps[self.fetch][-1]
        before = self._steps[self.fetch][-2] if len(self._steps[self.fetch]) > 1 else [self.context.resting]
        width = len(nets) + 1
        full = (1 << width) - 1
        decode = {net: (1 << lane, full ^ 1 << lane) for lane, net in enumerate(nets)}
        words = [in_lanes([rows[0]], self.context.lines.reached, width) for rows in (last, before)]
        at = self.context.states_in_lanes([self._outcomes.sample] * width)
        moved = self.context.sequencer.step(width, at, *words, decode=decode)
        found: list[tuple[NetId, bool] | int] = []
        for state in self.context.order:
            base = moved[state][0] >> width - 1 & 1
            differ = [net for lane, net in enumerate(nets) if (moved[state][0] >> lane & 1) != base]
            found.append((differ[0], bool(base)) if len(differ) == 1 else base)
            if len(differ) > 1 or moved[state][0] | moved[state][1] != full:
                names = listed(self.context.netlist.nets[net].name for net in (differ or nets)[:4])
                message = f"which start address the counter loads cannot be told from {names}"
                self.findings.add("U234", message, self.context.binding.position)
        return found

    @staticmethod
    def _may_load(number: int, loads: Sequence[tuple[NetId, bool] | int]) -> bool:
        return all(each == number >> bit & 1 for bit, each in enumerate(loads) if isinstance(each, int))

    def decode_words(self) -> tuple[tuple[NetId, ...], dict[int, int]]:
        """The nets at address pins of the decode ROMs that move, and for each address the levels of decode nets."""
        store = self.context.store
        nets = tuple(sorted({net for chip in store.decode for net in chip.address
                             if store.role(net).role.kind != "constant"}))  # fmt: skip
        words: dict[int, int] = {}
        literals = [store.role(net) for net in nets]
        for opcode, block in enumerate(self.blocks.by_opcode):
            for interrupt in (0, 1):
                name = self._target(block, interrupt)
                if name is None:
                    continue
                found = [0]
                for bit, literal in enumerate(literals):
                    levels: tuple[int, ...] = (0, 1)
                    if literal.role.kind == "opcode":
                        levels = ((opcode >> literal.role.index & 1) ^ literal.inverted,)
                    elif literal.role.kind == "interrupt":
                        levels = (interrupt ^ literal.inverted,)
                    found = [address | level << bit for address in found for level in levels]
                self._decode(words, found, name, block)
        return nets, words

    def _target(self, block: FlatBlock, interrupt: int) -> str | None:
        if interrupt and self.blocks.entry and self._entry_by_decode():
            return self.blocks.entry.name
        return block.name if block.name in self.starts else None

    def _decode(self, words: dict[int, int], addresses: Sequence[int], name: str, block: FlatBlock) -> None:
        word = self._decode_word(self.starts[name])
        for address in addresses:
            if words.setdefault(address, word) != word:
                other = next(each for each, start in self.starts.items() if self._decode_word(start) == words[address])
                message = f"the decode ROMs cannot tell `{name}` from `{other}`: they do not see all of the opcode"
                self.findings.add("U224", message, block.position, self.context.binding.position)
                return

    def _decode_word(self, start: int) -> int:
        nets = self.context.store.decode_nets
        word = 0
        for bit, each in enumerate(self._loaded):
            if not isinstance(each, int):
                net, inverted = each
                word |= ((start >> bit & 1) ^ inverted) << nets.index(net)
        return word
