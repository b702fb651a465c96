"""One whole clock as expressions: the main clock falls and rises again, each with the one round that changes things.

The value of the clock is a constant in each half, so that most of what is there for clocks folds away; nets are
worked out only as far as the next state hangs on them. A second round of each half is checked to change nothing: a
rippled clock, a race, a fight, anything that general code or the oracle has to see is a guard that does not hold.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from latchwork import devices
from latchwork.devices import Edge
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.program import Plan, cell_sources
from latchwork.engines.compiled.settling import Levels, LoopStep, Settling
from latchwork.engines.compiled.stepping import Round, Stepper
from latchwork.engines.compiled.watching import Watch
from latchwork.logic import Expression
from latchwork.netlist import NetId
from latchwork.netlist.netlist import NO_NET

STARTS = "starts"
KINDS = ("memory", "touched")


@dataclass(frozen=True)
class StoreStep:
    """Where ``when``, ``data`` goes to ``address`` of what is called ``memory``."""

    memory: str
    when: Expression
    address: Expression
    data: Expression


@dataclass(frozen=True)
class WriteStep:
    """Writes that go on at once. ``aliases``: what the memories are called after them, with their names before any."""

    stores: tuple[StoreStep, ...]
    names: frozenset[str]
    aliases: tuple[tuple[str, str], ...]


Step = LoopStep | WriteStep


@dataclass(frozen=True)
class ClockForm:
    """``steps``, in their order, then ``ends``: what each variable that moves is after the clock. All of it holds
    where no guard is 1."""

    steps: tuple[Step, ...]
    guards: tuple[Expression, ...]
    ends: dict[str, Expression]


@dataclass
class Moment:
    """What the machine is made of between two rounds, as expressions; ``version`` counts writes of each memory."""

    slots: dict[int, Expression]
    kept: dict[int, Expression]
    loops: dict[int, Levels]
    version: dict[int, int] = field(default_factory=dict)


class OneClock:
    """Works out the form for one plan, in a pool."""

    def __init__(self, plan: Plan, pool: Pool, watch: Watch | None = None) -> None:
        assert plan.clock_slot is not None
        self.watch = watch or Watch()
        self.plan = plan
        self.pool = pool
        self.clock_slot = plan.clock_slot
        self.layout = plan.layout
        self.sources = cell_sources(self.layout, pool, plan.loop_drives)
        self._tag = 0
        self._counter: dict[str, Expression] = {}
        self._guards: list[Expression] = []
        self._steps: list[Step] = []

    def at_rest(self) -> Moment:
        """Before a clock: everything from the cells, the clock high."""
        wiring, variable = self.layout.wiring, self.pool.variable
        slots = {n: variable(f"slots.{n}", slot.width) for n, slot in enumerate(wiring.slots)}
        return Moment(
            slots=slots | {self.clock_slot: self.pool.constant(1)},
            kept={n: variable(f"kept.{n}") for n in range(len(wiring.keepers))},
            loops={drive: self.sources.loop(drive) for drive in self.plan.loop_drives},
        )

    def form(self) -> ClockForm:
        moment = self.at_rest()
        rest = self.settling(moment, resting=True)
        before = self._round(rest, None)
        self._not_counted(rest, 1)
        self._seen, self._before = self._watched(rest), rest
        for level in (0, 1):
            moment, before = self._half(moment, before, level)
        return ClockForm(tuple(self._steps), tuple(self._guards), self._ends(moment, before))

    def _ends(self, end: Moment, last: Round) -> dict[str, Expression]:
        found = {f"slots.{slot}": end.slots[slot] for slot in sorted(last.slots)}
        found |= {f"kept.{keeper}": value for keeper, value in end.kept.items()}
        for drive, levels in end.loops.items():
            names = (str(level.data) for level in self.sources.loop(drive))
            found |= dict(zip(names, levels, strict=True))
        return found | self._counter

    # Watching

    def _watched(self, settling: Settling) -> list[Expression]:
        return [level for net in self.watch.changing for level in settling.net(net)]

    def _watch(self, settling: Settling, level: int) -> None:
        """At the end of a tick: has something come that is watched for?"""
        pool = self.pool
        self._guards += [pool.differ(*pair) for pair in zip(self._seen, self._watched(settling), strict=True)]
        for nets, wanted in self.watch.conditions:
            bits, carried = self._number(settling, nets)
            self._guards.append(pool.both(carried, pool.equal(bits, pool.constant(wanted, bits.width))))
        for edge in self.watch.edges:
            self._guards.append(self._comes(edge, self._before, settling))
        self._before = settling
        if level and self.watch.counted:
            bits, carried = self._number(settling, self.watch.counted)
            self._guards.append(pool.invert(carried))
            before = pool.variable("counter.3", bits.width)
            starts = pool.read(STARTS, before if self.watch.delayed else bits, 1)
            begins = pool.both(starts, pool.invert(pool.variable("counter.1")))
            count = pool.add(pool.variable("counter.0", 64), pool.join(begins, pool.constant(0, 63)))
            self._counter = {"counter.0": count, "counter.1": starts, "counter.2": before, "counter.3": bits}
            if self.watch.noted:
                self._counter["counter.4"] = self._noted(settling, begins)

    def _noted(self, settling: Settling, begins: Expression) -> Expression:
        """What the noted nets carry where an instruction begins."""
        pool, (bits, carried) = self.pool, self._number(settling, self.watch.noted)
        self._guards.append(pool.both(begins, pool.invert(carried)))
        wide = pool.join(bits, pool.constant(0, 64 - bits.width))
        return pool.choose(begins, wide, pool.variable("counter.4", 64))

    def _comes(self, watch: devices.Watch, before: Settling, settling: Settling) -> Expression:
        """Whether an edge comes with a tick, and those nets stand then as they have to."""
        pool, (was, was_carried), (now, carried) = self.pool, before.net(watch.net), settling.net(watch.net)
        stands = [pool.both(there, pool.equal(bit, pool.constant(level)))
                  for net, level in watch.when for bit, there in [settling.net(net)]]  # fmt: skip
        if watch.edge is Edge.BOTH:
            return pool.both(pool.either(pool.differ(was, now), pool.differ(was_carried, carried)), *stands)
        low, high = (was, now) if watch.edge is Edge.RISE else (now, was)
        return pool.both(was_carried, carried, pool.invert(low), high, *stands)

    def _number(self, settling: Settling, nets: tuple[NetId, ...]) -> Levels:
        """The nets as a number, and whether all of them carry a level."""
        levels = [settling.net(net) for net in nets]
        return self.pool.join(*(bit for bit, _ in levels)), self.pool.both(*(carried for _, carried in levels))

    # Halves

    def _half(self, moment: Moment, before: Round, level: int) -> tuple[Moment, Round]:
        """The clock goes to a level: one round that acts, one that must not."""
        moment = replace(moment, slots=moment.slots | {self.clock_slot: self.pool.constant(level)})
        settling = self.settling(moment)
        acting = self._round(settling, before)
        self._guards += acting.troubles
        self._steps += settling.loops
        moment = self._after(settling, moment)
        self._no_asks(acting)
        moment = self._writes(acting, replace(moment, slots=moment.slots | acting.slots))
        settled = self.settling(moment)
        quiet = self._round(settled, acting, later=True)
        self._guards += quiet.troubles
        self._steps += settled.loops
        self._no_asks(quiet)
        self._nothing_changes(quiet, moment)
        self._no_short_pulse(before, acting, quiet)
        self._guards += [self.pool.any_bit(fight.bits) for fight in settled.fights()]
        self._not_counted(settled, level)
        self._watch(settled, level)
        return self._after(settled, moment), quiet

    def settling(self, moment: Moment, resting: bool = False) -> Settling:
        self._tag += 1
        sources = replace(
            self.sources,
            slot=moment.slots.__getitem__,
            kept=moment.kept.__getitem__,
            loop=moment.loops.__getitem__,
            memory=lambda n: f"memory.{n}" + "'" * moment.version.get(n, 0),
            touched=lambda n: f"touched.{n}" + "'" * moment.version.get(n, 0),
        )
        return Settling(self.layout, self.pool, self.plan.choice, sources, tag=f"{self._tag}.", resting=resting)

    def _round(self, settling: Settling, before: Round | None, later: bool = False) -> Round:
        zero = self.pool.constant
        was: Callable[[int, int], Expression] = lambda n, w: before.senses[n] if before else zero(0, w)  # noqa: E731
        memo: Callable[[int, int], Expression] = lambda n, w: before.memos[n] if before else zero(0, w)  # noqa: E731
        return Stepper(settling, was, memo, zero(int(later))).round

    def _after(self, settling: Settling, moment: Moment) -> Moment:
        """Keepers and loops hold what this settling gave them."""
        kept = {n: settling.after_keeping(n) for n in moment.kept}
        return replace(moment, kept=kept, loops={drive: settling.drive(drive) for drive in moment.loops})

    # What must not happen

    def _no_asks(self, step: Round) -> None:
        self._guards += [ask.when for ask in step.asks]

    def _nothing_changes(self, step: Round, moment: Moment) -> None:
        pool = self.pool
        self._guards += [pool.unequal(value, moment.slots[slot]) for slot, value in step.slots.items()]
        for write in step.writes:
            stored = self.layout.wiring.stores[write.store].memory
            version = "'" * moment.version.get(write.store, 0)
            there = pool.read(f"memory.{write.store}{version}", write.address, stored.width)
            changes = pool.unequal(there, write.data)
            if not stored.keeps:
                known = pool.read(f"touched.{write.store}{version}", write.address, 1)
                changes = pool.either(changes, pool.invert(known))
            self._guards.append(pool.both(write.when, changes))

    def _no_short_pulse(self, before: Round, acting: Round, quiet: Round) -> None:
        for a, b, c in zip(before.senses, acting.senses, quiet.senses, strict=True):
            self._guards.append(self.pool.both(self.pool.differ(a, b), self.pool.differ(b, c)))

    def _not_counted(self, settling: Settling, level: int) -> None:
        """The net of the main clock has the level of the half, or this is no clock that counts."""
        net = self.layout.wiring.netlist.clock
        if net == NO_NET:
            self._guards.append(self.pool.constant(1))
            return
        bit, carried = settling.net(net)
        self._guards += [self.pool.invert(carried), self.pool.differ(bit, self.pool.constant(level))]

    # Memories

    def _writes(self, step: Round, moment: Moment) -> Moment:
        """Write to memories; what follows reads them by another name."""
        version, stores = dict(moment.version), list[StoreStep]()
        live = [write for write in step.writes if write.when is not self.pool.constant(0)]
        names = frozenset(f"{kind}.{w.store}" + "'" * version.get(w.store, 0) for w in live for kind in KINDS)
        for write in live:
            stores.append(StoreStep(f"memory.{write.store}", write.when, write.address, write.data))
            if not self.layout.wiring.stores[write.store].memory.keeps:
                stores.append(StoreStep(f"touched.{write.store}", write.when, write.address, self.pool.constant(1, 8)))
            version[write.store] = moment.version.get(write.store, 0) + 1
        if live:
            plain = [f"{kind}.{store}" for store in sorted({w.store for w in live}) for kind in KINDS]
            aliases = tuple((name + "'" * version[int(name.partition(".")[2])], name) for name in plain)
            self._steps.append(WriteStep(tuple(stores), names, aliases))
        return replace(moment, version=version)
