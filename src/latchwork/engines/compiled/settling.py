"""One settling of all nets, as expressions over states, memories, switches, keepers and the nets of loops.

Loops can't be written as expressions: each becomes a ``LoopStep``, to be worked off in order before anything that
reads its results.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from latchwork.engines.compiled.cutting import WHOLE, Cut, value_of
from latchwork.engines.compiled.pool import Lookup, Pool, reads_of
from latchwork.engines.compiled.words import Layout, Word
from latchwork.engines.oracle.wiring import drive_of, state_names
from latchwork.logic import Expression
from latchwork.logic.evaluate import mask
from latchwork.netlist import ChipId, NetId
from latchwork.parts import Floating, OutputKind

Levels = tuple[Expression, Expression]
"""A word as (bits, mask of those that carry a level); a bit that carries nothing is 0."""


@dataclass(frozen=True)
class Sources:
    """Where a settling gets from what it does not work out: by number of slot, tie, keeper, store, net. ``loop``:
    what a drive within a loop gave (lows, highs) when nets last settled; ``outside``: what drivers of devices give, by
    bank, first bit and width."""

    slot: Callable[[int], Expression]
    tie: Callable[[int], Expression]
    kept: Callable[[int], Expression]
    forced: Callable[[NetId], Expression]
    memory: Callable[[int], str]
    touched: Callable[[int], str]
    loop: Callable[[int], Levels]
    outside: Callable[[int, int, int], Levels]


@dataclass(frozen=True)
class LoopStep:
    """Repeat ``following`` from ``start`` on, all at once, until nothing changes or ``bound`` repetitions are over.

    ``current`` and ``final`` are names of variables: during a repetition, and after the last. ``traps`` are looked at
    in each repetition.
    """

    current: tuple[str, ...]
    final: tuple[str, ...]
    start: tuple[Expression, ...]
    following: tuple[Expression, ...]
    traps: tuple[Expression, ...]
    bound: int


@dataclass(frozen=True)
class Fight:
    """Bits of a word on which enabled drivers differ, and who drives them. Of a probed net there is none."""

    word: int
    bits: Expression
    drivers: tuple[Expression, ...]


@dataclass
class _Scope:
    """What is known of drives and words at one place: within a repetition of a loop, or outside."""

    parent: _Scope | None = None
    driven: dict[int, Levels] = field(default_factory=dict)  # by drive: (lows, highs)
    bits: dict[tuple[int, int], Levels] = field(default_factory=dict)  # of drives that are worked out bit by bit
    words: dict[int, Levels] = field(default_factory=dict)
    strong: dict[int, Levels] = field(default_factory=dict)
    stop: frozenset[int] = frozenset()  # words that the parent must not be asked for

    def word(self, number: int) -> Levels | None:
        if number in self.words:
            return self.words[number]
        return self.parent.word(number) if self.parent and number not in self.stop else None


class Settling:
    """Works out every net. ``tag`` tells the variables of this settling's loops from those of others. With
    ``resting`` loops have settled already."""

    def __init__(
        self,
        layout: Layout,
        pool: Pool,
        choice: list[int],
        sources: Sources,
        *,
        tag: str = "",
        resting: bool = False,
    ) -> None:
        self.layout = layout
        self.pool = pool
        self.choice = choice
        self.sources = sources
        self.tag = tag
        self.resting = resting
        self.loops: list[LoopStep] = []
        self.traps: list[Expression] = []
        self._main = _Scope()
        self._states = [state_names(part) for part in layout.wiring.netlist.parts]
        for rank in range(len(layout.grouping.components)):
            self._component(rank)

    # Asking

    def levels(self, word: int) -> Levels:
        """What a word carries."""
        return self._word(word, self._main)

    def net(self, net: NetId) -> Levels:
        """What one net carries, as (bit, whether it carries a level)."""
        word, bit = self.layout.place[net]
        bits, carried = self.levels(word)
        return self.pool.slice(bits, bit, 1), self.pool.slice(carried, bit, 1)

    def evaluate(self, chip: ChipId, expression: Expression) -> Expression:
        """An expression of a chip's part, as an input of that part reads its nets."""
        return self._evaluate(chip, expression, self._main)

    def open_bits(self, chip: ChipId) -> Callable[[str, int], Expression]:
        """The mask of a variable's bits that carry nothing, for a part whose open inputs read anything."""

        def find(name: str, width: int) -> Expression:
            if self._is_state(chip, name):
                return self.pool.constant(0, width)
            nets = self.layout.wiring.port(chip, name)
            return self.pool.join(*(self.pool.invert(self.net(net)[1]) for net in nets))

        return find

    def memories(self, chip: ChipId) -> dict[str, str]:
        stores = self.layout.wiring.store_named
        return {name: self.sources.memory(number) for (of, name), number in stores.items() if of == chip}

    def after_keeping(self, keeper: int) -> Expression:
        """What a keeper holds from here on."""
        net = self.layout.grouping.group[self.layout.wiring.keepers[keeper].net]
        bits, carried = self._without_keepers(self.layout.place[net][0], self._main)
        return self.pool.choose(carried, bits, self.sources.kept(keeper))

    def early_reads(self, chip: ChipId, expression: Expression, enable: Expression | None = None) -> list[Expression]:
        """Whether a cell is read to which nothing was written since power-up."""
        return self._early_reads(chip, expression, enable, self._main)

    def drive(self, number: int) -> Levels:
        """What a drive gives: lows and highs."""
        return self._main.driven[number]

    # Drives

    def _component(self, rank: int) -> None:
        grouping = self.layout.grouping
        if grouping.loops[rank]:
            self._loop(rank)
            return
        self._drive_component(rank)

    def _driven(self, number: int, scope: _Scope, traps: list[Expression], bit: int = WHOLE) -> Levels:
        """The bits that a drive pulls low, and those that it pulls high; or one of them."""
        pool, (chip, drive) = self.pool, drive_of(self.layout.wiring, number)
        wanted = drive.value if bit == WHOLE else value_of(self.layout.scratch, drive.value, bit)
        value = self._evaluate(chip, wanted, scope)
        enable = None if drive.enable is None else self._evaluate(chip, drive.enable, scope)
        traps += self._early_reads(chip, drive.value, enable, scope)
        if drive.enable is not None:
            traps += self._early_reads(chip, drive.enable, None, scope)
        if drive.kind is OutputKind.OPEN_COLLECTOR:
            return pool.invert(value), pool.constant(0, value.width)
        if enable is None:
            return pool.invert(value), value
        wide = pool.repeat(enable, value.width)
        return pool.both(wide, pool.invert(value)), pool.both(wide, value)

    def _early_reads(
        self, chip: ChipId, expression: Expression, enable: Expression | None, scope: _Scope
    ) -> list[Expression]:
        found, stores = [], self.layout.wiring.store_named
        for read in reads_of(expression):
            store = stores[chip, str(read.data)]
            if self.layout.wiring.stores[store].memory.keeps:
                continue
            address = self._evaluate(chip, read.args[0], scope)
            early = self.pool.invert(self.pool.read(self.sources.touched(store), address, 1))
            found.append(early if enable is None else self.pool.both(enable, early))
        return found

    def _is_state(self, chip: ChipId, name: str) -> bool:
        return name in self._states[self.layout.wiring.netlist.chips[chip].part]

    def _evaluate(self, chip: ChipId, expression: Expression, scope: _Scope) -> Expression:
        return self.pool.rewritten(expression, self._lookup(chip, scope), self.memories(chip))

    def _lookup(self, chip: ChipId, scope: _Scope) -> Lookup:
        wiring = self.layout.wiring
        reads_high = wiring.netlist.part_of(chip).floating is Floating.HIGH

        def find(name: str, low: int, width: int) -> Expression:
            if self._is_state(chip, name):
                return self.pool.slice(self.sources.slot(wiring.slot_named[chip, name]), low, width)
            nets = wiring.port(chip, name)[low : low + width]
            return self.pool.join(*(self._read(net, reads_high, scope) for net in nets))

        return find

    def _read(self, net: NetId, reads_high: bool, scope: _Scope) -> Expression:
        number, bit = self.layout.place[net]
        bits, carried = self._word(number, scope)
        idle = mask(carried.width) if reads_high else self._choice(self.layout.words[number])
        open_ = self.pool.both(self.pool.invert(carried), self.pool.constant(idle, carried.width))
        return self.pool.slice(self.pool.either(bits, open_), bit, 1)

    def _choice(self, word: Word) -> int:
        """The levels that the seed gives a word where both are possible."""
        return sum((self.choice[net] >> 1) << bit for bit, net in enumerate(word.nets))

    # Words

    def _word(self, number: int, scope: _Scope) -> Levels:
        found = scope.word(number)
        if found is None:
            found = scope.words[number] = self._resolved(number, scope)
        return found

    def _resolved(self, number: int, scope: _Scope) -> Levels:
        bits, carried = self._without_keepers(number, scope)
        word = self.layout.words[number]
        if not word.keepers:
            return bits, carried
        kept = [self.sources.kept(keeper) for keeper in word.keepers]
        lows, highs = self.pool.either(*map(self.pool.invert, kept)), self.pool.either(*kept)
        return self._else(word, (bits, carried), lows, highs)

    def _without_keepers(self, number: int, scope: _Scope) -> Levels:
        word, strong = self.layout.words[number], self._strong(number, scope)
        if not (word.pulls or word.links):
            return strong
        pool, width = self.pool, word.width
        lows = [pool.constant(-(1 - level), width) for level in word.pulls]
        highs = [pool.constant(-level, width) for level in word.pulls]
        for other in word.links:
            bits, carried = self._strong(self.layout.place[other][0], scope)
            bit = self.layout.place[other][1]
            bits, carried = pool.slice(bits, bit, 1), pool.slice(carried, bit, 1)
            lows.append(pool.both(carried, pool.invert(bits)))
            highs.append(bits)
        return self._else(word, strong, pool.either(*lows), pool.either(*highs))

    def _else(self, word: Word, levels: Levels, lows: Expression, highs: Expression) -> Levels:
        """What stands, and where nothing does, weaker lows and highs."""
        pool, (bits, carried) = self.pool, levels
        weak_bits, weak_carried = self._of(word, lows, highs)
        below = pool.invert(carried)
        return pool.either(bits, pool.both(below, weak_bits)), pool.either(carried, weak_carried)

    def _of(self, word: Word, lows: Expression, highs: Expression) -> Levels:
        """Levels of sources of one strength; where they differ the seed decides."""
        pool = self.pool
        choice = pool.constant(self._choice(word), word.width)
        return pool.both(highs, pool.either(choice, pool.invert(lows))), pool.either(lows, highs)

    def _strong(self, number: int, scope: _Scope) -> Levels:
        if number not in scope.strong:
            scope.strong[number] = self._strongly(self.layout.words[number], scope)
        return scope.strong[number]

    def _strongly(self, word: Word, scope: _Scope) -> Levels:
        pool = self.pool
        if word.forced:
            return self.sources.forced(word.nets[0]), pool.constant(1)
        if word.fixed is not None:
            return pool.constant(word.fixed), pool.constant(1)
        if len(word.drives) == 1 and not word.rails:
            lows, highs = self._contribution(word, word.drives[0], scope)
            return highs, pool.either(lows, highs)
        lows, highs = self._both_sides(word, scope)
        return self._of(word, lows, highs)

    def _contribution(self, word: Word, drive: tuple[int, int], scope: _Scope) -> Levels:
        (number, bit), width = drive, word.width
        drives = len(self.layout.wiring.drives)
        if number >= drives:
            return self.sources.outside(number - drives, bit, width)
        at: _Scope | None = scope
        while at is not None:
            if (number, bit) in at.bits and width == 1:
                return at.bits[number, bit]
            if number in at.driven:
                lows, highs = at.driven[number]
                return self.pool.slice(lows, bit, width), self.pool.slice(highs, bit, width)
            at = at.parent
        raise KeyError(f"drive {number} is asked for before it is evaluated")

    def _both_sides(self, word: Word, scope: _Scope) -> Levels:
        """Everything strong on a word: lows and highs."""
        pool, none = self.pool, self.pool.constant(0, word.width)
        pairs = [self._contribution(word, drive, scope) for drive in word.drives]
        for tie, level in word.rails:
            closed = self.sources.tie(tie)
            pairs.append((none, closed) if level else (closed, none))
        if not pairs:
            return none, none
        return pool.either(*(low for low, _ in pairs)), pool.either(*(high for _, high in pairs))

    def fights(self) -> list[Fight]:
        """Where enabled drivers may differ."""
        found = []
        for number, word in enumerate(self.layout.words):
            alone = len(word.drives) + len(word.rails) < 2 and word.fixed is None
            if word.forced or not (word.drives or word.rails) or alone:
                continue
            lows, highs = self._both_sides(word, self._main)
            bits = self.pool.both(lows, highs)
            if word.fixed is not None:
                bits = lows if word.fixed else highs
            drivers = [self.pool.either(*self._contribution(word, drive, self._main)) for drive in word.drives]
            drivers += [self.sources.tie(tie) for tie, _ in word.rails]
            found.append(Fight(number, bits, tuple(self.pool.both(bits, driver) for driver in drivers)))
        return found

    # Loops

    def _loop(self, rank: int) -> None:
        grouping = self.layout.grouping
        if rank in self.layout.cuts:
            self._in_order(self.layout.cuts[rank])
            return
        old = {number: self.sources.loop(number) for number in grouping.components[rank]}
        if self.resting:
            self._main.driven.update(old)
            return
        numbers = looped_words(self.layout, rank)
        widths = [self.layout.words[number].width for number in numbers]
        names = [f"{self.tag}loop{rank}.{number}" for number in numbers]
        current = self._named([f"{name}.now" for name in names], widths)
        final = self._named([f"{name}.end" for name in names], widths)
        traps: list[Expression] = []
        body = _Scope(self._main, words=dict(zip(numbers, current, strict=True)))
        results = {number: self._driven(number, body, traps) for number in grouping.components[rank]}
        after = _Scope(self._main, driven=results, stop=frozenset(numbers))
        following = [self._resolved(number, after) for number in numbers]
        before = _Scope(self._main, driven=old, stop=frozenset(numbers))
        start = [self._resolved(number, before) for number in numbers]
        self.loops.append(
            LoopStep(
                current=tuple(str(each.data) for pair in current for each in pair),
                final=tuple(str(each.data) for pair in final for each in pair),
                start=tuple(each for pair in start for each in pair),
                following=tuple(each for pair in following for each in pair),
                traps=tuple(traps),
                bound=16 + 2 * len(grouping.inner[rank]),
            )
        )
        self._main.words.update(zip(numbers, final, strict=True))
        self._drive_component(rank)

    def _in_order(self, order: Cut) -> None:
        """A loop that is none when taken bit by bit."""
        main, pieces = self._main, dict[int, dict[int, Levels]]()
        for number, bit in order.order:
            levels = self._driven(number, main, self.traps, bit)
            if bit == WHOLE:
                main.driven[number] = levels
            else:
                pieces.setdefault(number, {})[bit] = main.bits[number, bit] = levels
        for number, bits in pieces.items():
            sides = zip(*(bits[bit] for bit in sorted(bits)), strict=True)
            lows, highs = (self.pool.join(*side) for side in sides)
            main.driven[number] = lows, highs

    def _drive_component(self, rank: int) -> None:
        for number in self.layout.grouping.components[rank]:
            self._main.driven[number] = self._driven(number, self._main, self.traps)

    def _named(self, names: list[str], widths: list[int]) -> list[Levels]:
        variable = self.pool.variable
        pairs = zip(names, widths, strict=True)
        return [(variable(f"{name}.bits", width), variable(f"{name}.carried", width)) for name, width in pairs]


def looped_words(layout: Layout, rank: int) -> list[int]:
    """The words that a loop's drives read and have a part in."""
    grouping, drives = layout.grouping, set(layout.grouping.components[rank])
    found = []
    for number in sorted({layout.place[net][0] for net in grouping.inner[rank]}):
        word = layout.words[number]
        linked = [drive for other in word.links for drive, _ in layout.words[layout.place[other][0]].drives]
        reached = {drive for drive, _ in word.drives} | set(linked)
        if reached & drives and not word.forced and word.fixed is None:
            found.append(number)
    return found
