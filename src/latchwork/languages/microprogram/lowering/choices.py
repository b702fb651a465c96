"""What the next-address bits of a word can do: for each choice, where the wiring leads under every outside level.

Bits of the next address that share bits of the word form a *part*. The bits of a row that set control lines are known
before; what is left to choose are the bits that only the next address hangs on.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from latchwork.analysis.edges import next_cone
from latchwork.analysis.lanes import Lanes, variables
from latchwork.analysis.lines import LARGEST
from latchwork.analysis.store import Role
from latchwork.languages.microprogram.errors import counted
from latchwork.languages.microprogram.lowering.chains import INTERRUPT
from latchwork.languages.microprogram.lowering.context import Context
from latchwork.languages.microprogram.lowering.rows import PlacedRow
from latchwork.languages.microprogram.lowering.wishes import Cube
from latchwork.netlist import NetId

Outside = tuple[str, Role]
"""A role, "now" (before the clock edge) or "then" (after it)."""


@dataclass(frozen=True)
class Hang:
    """What a bit of the next address hangs on."""

    net: NetId
    free: frozenset[NetId]
    set: frozenset[NetId]
    outside: frozenset[Outside]


@dataclass(frozen=True)
class Option:
    """A choice of the free bits of a part, and for each of its address bits the outside lanes in which it is 1."""

    choice: int
    ones: tuple[int, ...]


@dataclass(frozen=True)
class Part:
    nets: tuple[NetId, ...]
    free: tuple[NetId, ...]
    set: tuple[NetId, ...]
    outside: tuple[Outside, ...]

    def bits(self, choice: int) -> dict[NetId, int]:
        return {net: choice >> bit & 1 for bit, net in enumerate(self.free)}

    @cached_property
    def all(self) -> int:
        return (1 << (1 << len(self.outside))) - 1

    def lanes_of(self, known: Mapping[Role, int]) -> int:
        """The outside lanes in which roles have known levels."""
        lanes = self.all
        for (_, role), (ones, zeros) in zip(self.outside, variables(len(self.outside)), strict=True):
            if role in known:
                lanes &= ones if known[role] else zeros
        return lanes

    def levels(self, option: Option, known: Mapping[Role, int]) -> tuple[int, ...] | None:
        """The address bits under known levels, None where they still hang on something else."""
        lanes = self.lanes_of(known)
        found = [one & lanes for one in option.ones]
        return tuple(int(one != 0) for one in found) if all(one in (0, lanes) for one in found) else None


class Choices:
    """All parts of the next address. ``targets``: the address nets that the machine leads; the others are
    conditions or the interrupt, joined to the store as they are."""

    def __init__(self, context: Context) -> None:
        self.context = context
        literals = zip(context.store.address_nets, context.sequencer.address, strict=True)
        self.targets = tuple(net for net, at in literals if at.role.kind not in ("condition", "interrupt", "opcode"))
        self._tables: dict[tuple[int, int], list[Option]] = {}

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        groups: list[list[Hang]] = []
        for hang in (self._hang(net) for net in self.targets):
            touching = [group for group in groups if any(hang.free & other.free for other in group)]
            groups = [group for group in groups if group not in touching]
            groups.append([*(other for group in touching for other in group), hang])
        parts = [_part(group) for group in groups]
        for part in parts:
            self._check_size(part)
        return tuple(sorted(parts, key=lambda part: part.nets, reverse=True))

    def _check_size(self, part: Part) -> None:
        bits = len(part.free) + len(part.outside)
        if bits > LARGEST:
            words, outside = counted(len(part.free), "bit"), counted(len(part.outside), "level")
            message = (
                f"{words} of the control word and {outside} from elsewhere (conditions, opcode, step) decide the next "
                f"address together; Latchwork tries out every combination, of {LARGEST} at most"
            )
            hint = "wire the next address so that fewer bits reach each of its bits, or state levels with `m.assume`"
            self.context.findings.add("U208", message, self.context.binding.position, help=hint)
            self.context.findings.stop_if_any()

    def _hang(self, net: NetId) -> Hang:
        store = self.context.store
        cone = store.cone(net)
        words: set[NetId] = set()
        outside: set[Outside] = set()
        self._sort((store.named[cut] for cut in cone.nets), "then", words, outside)
        for state in cone.states:
            role = store.state_role(state)[0]
            if role.kind == "state" and state in self.context.sequencer.states:
                inner = next_cone(store.whole, state, store.named)
                roles = [store.named[cut] for cut in inner.nets]
                self._sort([*roles, *(store.state_role(at)[0] for at in inner.states)], "now", words, outside)
            else:
                self._sort([role], "then", words, outside)
        free = words - self.context.lines.reached
        return Hang(net, frozenset(free), frozenset(words - free), frozenset(outside))

    @staticmethod
    def _sort(roles: Iterable[Role], when: str, words: set[NetId], outside: set[Outside]) -> None:
        for role in roles:
            if role.kind == "word":
                words.add(role.index)
            elif role.kind in ("condition", "opcode", "interrupt"):
                outside.add((when, role))

    def options(self, place: int, row: PlacedRow, before: PlacedRow) -> list[Option]:
        """Every choice of the free bits of part number ``place`` after a row whose other bits are known."""
        part = self.parts[place]
        fixed = sum(
            (row.bits.get(net, 0) | before.bits.get(net, 0) << 1) << 2 * bit for bit, net in enumerate(part.set)
        )
        key = (place, fixed)
        if key not in self._tables:
            self._tables[key] = self._table(part, row, before)
        return self._tables[key]

    def _table(self, part: Part, row: PlacedRow, before: PlacedRow) -> list[Option]:
        count = len(part.free) + len(part.outside)
        width, full = 1 << count, (1 << (1 << count)) - 1
        values = variables(count)
        below = len(part.outside)
        word: dict[NetId, Lanes] = dict(zip(part.free, values[below:], strict=True))
        earlier = dict(word)
        for net in part.set:
            word[net], earlier[net] = (_level(full, each.bits.get(net, 0)) for each in (row, before))
        now, then = ({role: values[bit] for bit, (at, role) in enumerate(part.outside) if at == when}
                     for when in ("now", "then"))  # fmt: skip
        found = self.context.sequencer.follow(width, {}, word, earlier, outside=now, then=then)
        return _split(part, [found[net] for net in part.nets])

    # ---- where options lead

    def known(self, cube: Cube) -> dict[Role, int]:
        """The levels of roles under conditions."""
        roles = {role for part in self.parts for _, role in part.outside}
        found: dict[Role, int] = {}
        levels = dict(cube)
        for role in roles:
            if role.kind == "interrupt" and INTERRUPT in levels:
                found[role] = levels[INTERRUPT]
            elif role.kind == "condition" and role.name in levels:
                found[role] = role.level if levels[role.name] else 1 - role.level
        return found

    def leading(self, place: int, table: list[Option], numbers: Mapping[Cube, int]) -> list[Option]:
        """The options of a part that lead to given numbers."""
        part = self.parts[place]
        bits = [self.targets.index(net) for net in part.nets]
        wanted = [(self.known(cube), tuple(number >> bit & 1 for bit in bits)) for cube, number in numbers.items()]
        return [option for option in table if all(part.levels(option, known) == levels for known, levels in wanted)]

    def useful(self, place: int, table: list[Option], cubes: Sequence[Cube]) -> list[tuple[tuple[int, ...], Option]]:
        """Options that are known in every case, one for each way of leading: what they add to the micro-address of
        each case, in the order of these."""
        part = self.parts[place]
        bits = [self.targets.index(net) for net in part.nets]
        known = [self.known(cube) for cube in cubes]
        found: dict[tuple[int, ...], Option] = {}
        for option in table:
            levels = [part.levels(option, each) for each in known]
            if None not in levels:
                numbers = (sum(level << bit for level, bit in zip(each or (), bits, strict=True)) for each in levels)
                found.setdefault(tuple(numbers), option)
        return sorted(found.items(), key=lambda item: item[0])

    def number(self, options: Sequence[Option], known: Mapping[Role, int]) -> int | None:
        """The micro-address that options of all parts lead to; None where it hangs on what is not known."""
        number = 0
        for part, option in zip(self.parts, options, strict=True):
            levels = part.levels(option, known)
            if levels is None:
                return None
            for net, level in zip(part.nets, levels, strict=True):
                number |= level << self.targets.index(net)
        return number


def _split(part: Part, levels: Sequence[Lanes]) -> list[Option]:
    """The choices that lead somewhere known, the lowest of those that lead to the same."""
    stride = 1 << len(part.outside)
    options: dict[tuple[int, ...], Option] = {}
    for choice in range(1 << len(part.free)):
        pairs = [(ones >> stride * choice & part.all, zeros >> stride * choice & part.all) for ones, zeros in levels]
        if all(ones | zeros == part.all for ones, zeros in pairs):
            led = tuple(ones for ones, _ in pairs)
            options.setdefault(led, Option(choice, led))
    return list(options.values())


def _level(full: int, level: int) -> Lanes:
    return (full, 0) if level else (0, full)


def _part(group: Sequence[Hang]) -> Part:
    return Part(
        tuple(sorted(hang.net for hang in group)),
        tuple(sorted({net for hang in group for net in hang.free})),
        tuple(sorted({net for hang in group for net in hang.set})),
        tuple(sorted({each for hang in group for each in hang.outside})),
    )
