"""The form in which the address of the next word stands in the word."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from latchwork.analysis.store import Role
from latchwork.languages.microprogram.errors import listed
from latchwork.languages.microprogram.flat import FlatBlock
from latchwork.languages.microprogram.lowering.chains import INTERRUPT, Chains, Group
from latchwork.languages.microprogram.lowering.choices import Choices, Option
from latchwork.languages.microprogram.lowering.context import Context
from latchwork.languages.microprogram.lowering.early import check_dispatch
from latchwork.languages.microprogram.lowering.places import settings_by_block, settings_of
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.languages.microprogram.lowering.wishes import Cube


class NextForm:
    """Places rows at addresses that the words before them can lead to."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.blocks = context.blocks
        self.findings = context.findings
        self.choices = Choices(context)
        self.starts: dict[str, int] = {}
        self._made = Chains(context)
        self._chains: dict[str, list[Group]] = {}
        self._taken: dict[int, str] = {}
        self._kept: dict[int, str] = {}

    def rows(self) -> list[PlacedRow]:
        """All rows with their words and addresses."""
        if any(each.role.kind == "opcode" for each in self.context.sequencer.address):
            self._opcode_at_address()
        self.findings.stop_if_any()
        self._chains = self._made.make()
        rows = [row for chain in self._chains.values() for group in chain for row in group.rows.values()]
        self.context.find_words(rows)
        self.findings.stop_if_any()
        check_dispatch(self.context, self._chains_rows(), self._made.prefix, self._late())
        self.findings.stop_if_any()
        self._place()
        self.findings.stop_if_any()
        for chain in self._chains.values():
            for group in chain:
                self._give_addresses(group)
        return rows

    def _opcode_at_address(self) -> None:
        message = "the control word holds the next address, and the store sees the opcode as well"
        hint = "lead the opcode into the next address, through selectors that one line of the word sets"
        self.findings.add("U220", message, self.context.binding.position, help=hint)

    def _chains_rows(self) -> dict[tuple[str, int], list[PlacedRow]]:
        found: dict[tuple[str, int], list[PlacedRow]] = {}
        for chain in self._chains.values():
            for group in chain:
                for row in group.rows.values():
                    found.setdefault((row.block, row.step), []).append(row)
        return found

    def _late(self) -> int:
        """1 where the opcode has to be there a clock before the address that it leads to."""
        kinds = {when for part in self.choices.parts for when, role in part.outside if role.kind == "opcode"}
        states = self.context.sequencer.opcode_states
        if "now" not in kinds or not states:
            return 0
        return int(self.context.store.edge(states[0]) == self.context.sequencer.edge)

    # ---- placing

    def _place(self) -> None:
        home = self._home()
        if home is None:
            return
        fetch = self._chains[self.blocks.fetch]
        self._keep_unchanged()
        self._begin(fetch[0], home)
        self._place_entry()
        self._dispatch(fetch)
        self.findings.stop_if_any()
        self._link(self.blocks.fetch, dispatched=True)
        for block in self._made.own():
            self._link(block.name)
        if self.blocks.entry:
            self._link(self.blocks.entry.name)

    def _home(self) -> int | None:
        """The address after reset."""
        reset = self.context.sequencer.address_at(self.context.sequencer.after_reset())
        levels = [reset[net] for net in self.choices.targets]
        if all(ones | zeros for ones, zeros in levels):
            return sum(ones << bit for bit, (ones, _) in enumerate(levels))
        unsure = [net for net, level in zip(self.choices.targets, levels, strict=True) if not level[0] | level[1]]
        names = listed(self.context.netlist.nets[net].name for net in unsure)
        message = f"the store's address after reset cannot be told: {names}"
        hint = "let reset clear the register that holds the next address"
        self.findings.add("U232", message, self.context.binding.position, help=hint)
        return None

    def _begin(self, group: Group, home: int) -> None:
        """The first step stands where reset leads; an entry stands where the interrupt leads instead."""
        first = group.rows[()]
        group.numbers[()] = home
        self._take(home, first)
        self.starts[self.blocks.fetch] = home
        self._first = Group((), {(): first}, {(): home})
        if self.blocks.entry and self.context.bits_of("interrupt"):
            self._chains[self.blocks.entry.name][0].numbers[()] = home
            self.starts[self.blocks.entry.name] = home
        elif self.blocks.entry:
            entry = self._chains[self.blocks.entry.name][0]
            rows: dict[Cube, PlacedRow] = {((INTERRUPT, 0),): first, ((INTERRUPT, 1),): entry.rows[()]}
            self._first = Group((INTERRUPT,), rows, {((INTERRUPT, 0),): home})

    def _place_entry(self) -> None:
        """The entry's place follows from that of the first step; it is taken before other steps can take it."""
        if self._first.names:
            chain = self._chains[self._made.own()[0].name]
            self._lead(next(iter(chain[-1].rows.values())), chain[-2] if len(chain) > 1 else None, self._first)

    def _take(self, number: int, row: PlacedRow) -> None:
        self._taken[number] = row.block

    def _free(self, number: int, block: str) -> bool:
        return number not in self._taken and self._kept.get(number, block) == block

    def _keep_unchanged(self) -> None:
        """Addresses of blocks that ask for what they asked for in the program before stay theirs."""
        previous = self.context.previous
        self._before: dict[tuple[str, int, Cube], list[int]] = {}
        if previous is None or previous.address_nets != self.context.store.address_nets:
            return
        asked = settings_by_block(previous)
        for row in previous.rows:
            numbers = sorted({self._number_of(address) for address in row.addresses})
            self._before[row.block, row.step, row.conditions] = numbers
        for name, chain in self._chains.items():
            if name == self.blocks.illegal.name:
                continue  # a new instruction takes its opcode, and so its place, from these
            if asked.get(name) == settings_of(row for group in chain for row in group.rows.values()):
                self._kept |= {n: name for (block, _, _), found in self._before.items() if block == name for n in found}

    def _number_of(self, address: int) -> int:
        nets = self.context.store.address_nets
        return sum((address >> nets.index(net) & 1) << bit for bit, net in enumerate(self.choices.targets))

    # ---- the step that leads on by the opcode

    def _dispatch(self, fetch: Sequence[Group]) -> None:
        roles = [role for part in self.choices.parts for _, role in part.outside if role.kind == "opcode"]
        for row in fetch[-1].rows.values():
            tables = self._options(row, fetch[-2] if len(fetch) > 1 else None)
            if not self._follow_opcode(row, tables, roles):
                return

    def _follow_opcode(self, row: PlacedRow, tables: list[list[Option]], roles: Sequence[Role]) -> bool:
        if not roles or not any(self._depends(place, option) for place, t in enumerate(tables) for option in t):
            message = f"after the last step of `{self.blocks.fetch}` nothing leads on by the opcode"
            hint = "ask in it for the line that lets the opcode into the next address"
            self.findings.add("U234", message, row.position, help=hint)
            return False
        patterns = {
            opcode: {role: opcode >> role.index & 1 for role in roles} for opcode in range(1 << self.blocks.width)
        }
        for options in product(*tables):
            numbers = {opcode: self.choices.number(options, known) for opcode, known in patterns.items()}
            if self._fit(numbers):
                self._use(row, options)
                self._settle_opcodes(numbers)
                return True
        self._no_dispatch(row, tables, patterns)
        return False

    def _depends(self, place: int, option: Option) -> bool:
        part = self.choices.parts[place]
        for bit, (_, role) in enumerate(part.outside):
            if role.kind == "opcode":
                shift = 1 << bit
                low = part.lanes_of({role: 0})
                if any((one ^ one >> shift) & low for one in option.ones):
                    return True
        return False

    def _fit(self, numbers: Mapping[int, int | None]) -> bool:
        """Every defined opcode leads to a free address, and no two blocks to one."""
        owner: dict[int, str] = {}
        own = {block.name for block in self._made.own()}
        for opcode, number in numbers.items():
            name = self.blocks.by_opcode[opcode].name
            if name not in own:
                continue
            if number is None or not self._free(number, name) or owner.setdefault(number, name) != name:
                return False
        return True

    def _settle_opcodes(self, numbers: Mapping[int, int | None]) -> None:
        own = {block.name: block for block in self._made.own()}
        for opcode, number in numbers.items():
            name = self.blocks.by_opcode[opcode].name
            if name in own and number is not None:
                group = self._chains[name][0]
                group.opcodes[opcode] = number
                self._taken[number] = name
        for name, block in own.items():
            found = self._chains[name][0].opcodes
            if found:
                self.starts[name] = min(found.values())
            if block.pinned >= 0 and block.pinned not in found.values():
                message = f"`{name}` cannot be pinned at {block.pinned:#x}: its opcode leads to {self.starts[name]:#x}"
                self.findings.add("U237", message, block.position)
            if self._chains[name][0].names:
                self._conditions_at_once(block)

    def _conditions_at_once(self, block: FlatBlock) -> None:
        names = listed(self._chains[block.name][0].names)
        message = f"{names} cannot choose in the first step of `{block.name}`: the opcode leads to it"
        hint = "put a step before it, which may ask for `nothing`"
        self.findings.add("U238", message, block.steps[self._made.prefix].position, help=hint)

    def _no_dispatch(
        self, row: PlacedRow, tables: list[list[Option]], patterns: Mapping[int, Mapping[Role, int]]
    ) -> None:
        numbers = {}
        for options in product(*tables):
            numbers = {opcode: self.choices.number(options, known) for opcode, known in patterns.items()}
            if None not in numbers.values():
                break
        pair = self._meeting(numbers)
        reason = f"`{pair[0]}` and `{pair[1]}` would begin at one address" if pair else "their addresses are taken"
        message = (
            f"there is no choice of next-address bits after `{self.blocks.fetch}` that leads every opcode to its own"
        )
        message += f" block: {reason}"
        self.findings.add("U233", message, row.position, self.context.binding.position)

    def _meeting(self, numbers: Mapping[int, int | None]) -> tuple[str, str] | None:
        owner: dict[int, str] = {}
        own = {block.name for block in self._made.own()}
        for opcode, number in numbers.items():
            name = self.blocks.by_opcode[opcode].name
            if number is not None and name in own and owner.setdefault(number, name) != name:
                return owner[number], name
        return None

    # ---- the other steps

    def _link(self, name: str, dispatched: bool = False) -> None:
        """Leads each step of a chain to the next, and the last back to the first of all."""
        chain = self._chains[name]
        for place, group in enumerate(chain):
            last = place == len(chain) - 1
            if last and dispatched:
                return
            target = self._first if last else chain[place + 1]
            before = chain[place - 1] if place else None
            for row in group.rows.values():
                self._lead(row, before, target)
                if self.findings.problems:
                    return

    def _options(self, row: PlacedRow, before: Group | None) -> list[list[Option]]:
        earlier = next(iter(before.rows.values())) if before else self.context.resting
        return [self.choices.options(place, row, earlier) for place in range(len(self.choices.parts))]

    def _lead(self, row: PlacedRow, before: Group | None, target: Group) -> None:
        tables = self._options(row, before)
        cubes = list(target.rows)
        wanted = [dict(target.numbers)] if target.numbers else []
        remembered = self._remembered(target)
        for numbers in [*wanted, *([remembered] if remembered and not wanted else [])]:
            options = self._matching(tables, cubes, numbers, target)
            if options is not None:
                self._settle(row, options, target)
                return
        options = None if target.numbers else self._search(tables, cubes, target)
        if options is None:
            self._unreachable(row, target)
        else:
            self._settle(row, options, target)

    def _remembered(self, target: Group) -> dict[Cube, int]:
        found = {}
        for cube, row in target.rows.items():
            numbers = self._before.get((row.block, row.step, row.where.conditions), [])
            if len(numbers) == 1 and self._free(numbers[0], row.block):
                found[cube] = numbers[0]
        return found if len(found) == len(target.rows) else {}

    def _matching(
        self, tables: list[list[Option]], cubes: Sequence[Cube], numbers: Mapping[Cube, int], target: Group
    ) -> list[Option] | None:
        """For each part the lowest option that leads to numbers already given."""
        free = [cube for cube in cubes if cube not in numbers]
        if free and set(target.names) != {INTERRUPT}:
            return None
        lists = [self.choices.leading(place, table, numbers) for place, table in enumerate(tables)]
        if not all(lists):
            return None
        return self._with_free(lists, free, target) if free else [options[0] for options in lists]

    def _with_free(self, lists: list[list[Option]], free: Sequence[Cube], target: Group) -> list[Option] | None:
        """The same where the entry has no place yet."""
        for options in product(*lists):
            found = [self.choices.number(options, self.choices.known(cube)) for cube in free]
            if all(n is not None and self._free(n, target.rows[c].block) for n, c in zip(found, free, strict=True)):
                return list(options)
        return None

    def _search(self, tables: list[list[Option]], cubes: Sequence[Cube], target: Group) -> list[Option] | None:
        """The options that lead to the lowest free addresses, a different one for each case."""
        lists = [self.choices.useful(place, table, cubes) for place, table in enumerate(tables)]
        names = [target.rows[cube].block for cube in cubes]
        for options in product(*lists):
            numbers = [sum(adds) for adds in zip(*(adds for adds, _ in options), strict=True)]
            free = all(self._free(number, name) for number, name in zip(numbers, names, strict=True))
            if free and len(set(numbers)) == len(cubes):
                return [option for _, option in options]
        return None

    def _settle(self, row: PlacedRow, options: Sequence[Option], target: Group) -> None:
        self._use(row, options)
        for cube, aim in target.rows.items():
            number = self.choices.number(options, self.choices.known(cube))
            assert number is not None
            target.numbers[cube] = number
            self._take(number, aim)
            if self.blocks.entry and aim.block == self.blocks.entry.name and aim.step == 0:
                self.starts[aim.block] = number
                self._chains[aim.block][0].numbers[()] = number

    def _use(self, row: PlacedRow, options: Sequence[Option]) -> None:
        for part, option in zip(self.choices.parts, options, strict=True):
            row.bits.update(part.bits(option.choice))

    def _unreachable(self, row: PlacedRow, target: Group) -> None:
        aim = next(iter(target.rows.values()))
        if target.names:
            names = listed("the interrupt" if name == INTERRUPT else name for name in target.names)
            message = f"after {row.named} the wiring cannot choose the next word by {names}"
            hint = "lead the condition into the next address, through a selector that bits of the word set"
        elif target.numbers:
            message = f"the wiring does not lead from {row.named} to {aim.named}"
            hint = "take a line out of the step that acts on the next address"
        else:
            message = f"no room for {aim.named}: {len(self._taken)} addresses are taken, and no free one can be reached"
            hint = ""
        self.findings.add("U236" if target.names or target.numbers else "U233", message, row.position, aim.position,
                          help=hint)  # fmt: skip

    # ---- addresses

    def _give_addresses(self, group: Group) -> None:
        for cube, row in group.rows.items():
            numbers = sorted(set(group.opcodes.values())) if group.opcodes else [group.numbers.get(cube, 0)]
            levels = self._interrupts(row)
            row.addresses = sorted({at for number in numbers for at in self._addresses(number, row, levels)})

    def _interrupts(self, row: PlacedRow) -> Sequence[int]:
        """The levels of an interrupt at the store's address under which a row is looked up."""
        entry = self.blocks.entry
        if not self.context.bits_of("interrupt"):
            return (0,)
        if entry is None or row.step or row.block not in (self.blocks.fetch, entry.name):
            return (0, 1)
        return (1,) if row.block == entry.name else (0,)

    def _addresses(self, number: int, row: PlacedRow, interrupts: Sequence[int]) -> Iterator[int]:
        nets = self.context.store.address_nets
        fixed = sum((number >> bit & 1) << nets.index(net) for bit, net in enumerate(self.choices.targets))
        known = dict(row.where.conditions)
        names = self.context.address_conditions()
        for interrupt in interrupts:
            for levels in product(*((known[name],) if name in known else (0, 1) for name in names)):
                yield fixed | self.context.condition_bits(tuple(zip(names, levels, strict=True)), interrupt)
