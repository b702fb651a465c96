"""Whole clocks as straight code: the main clock falls and rises again, each with the one round that changes things.

The value of the clock is a constant in each half, so that most of what is there for clocks folds away; nets are
worked out only as far as the next state hangs on them. A second round of each half is checked to change nothing: a
rippled clock, a race, a fight, anything that general code or the oracle has to see ends the run before that clock.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.emit import CELL, POINTER, Emitter, bits
from latchwork.engines.compiled.general import General
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.program import cell_sources
from latchwork.engines.compiled.settling import Levels, Settling
from latchwork.engines.compiled.stepping import Round, Stepper
from latchwork.engines.compiled.watching import Watch
from latchwork.logic import Expression
from latchwork.netlist import NetId
from latchwork.netlist.netlist import NO_NET

STARTS = "starts"
KINDS = ("memory", "touched")


@dataclass
class _Moment:
    """What the machine is made of between two rounds, as expressions; ``version`` counts writes of each memory."""

    slots: dict[int, Expression]
    kept: dict[int, Expression]
    loops: dict[int, Levels]
    version: dict[int, int] = field(default_factory=dict)


class Clocks:
    """``fast`` and ``run``, or ``skip`` with a watch, beside the functions of ``general`` and calling them."""

    def __init__(self, general: General, clock_slot: int, watch: Watch | None = None) -> None:
        self.watch = watch or Watch()
        self.general = general
        self.plan = general.plan
        self.pool = Pool()
        self.clock_slot = clock_slot
        self.layout = general.plan.layout
        self.sources = cell_sources(self.layout, self.pool, self.plan.loop_drives)
        self.tag = 0
        self.counter: dict[str, Expression] = {}
        self.values: dict[str, Any] = {}
        self.guards: list[Expression] = []
        self.undo: list[tuple[str, Any, Any]] = []

    def write(self) -> None:
        for name in ("prime", "tick"):
            ir.Function(self.general.module, ir.FunctionType(CELL, [POINTER]), name)
        self._fast("fast")
        self._run()

    def write_skipping(self, name: str) -> None:
        """As ``fast``, under a name of its own, as long as nothing happens that is watched for."""
        ir.Function(self.general.module, ir.FunctionType(CELL, [POINTER]), "prime")
        self._fast(name)

    # One clock

    def _fast(self, name: str) -> None:
        """``fast(cells, n)``: up to n clocks from a falling edge on; returns how many, the cells at rest after them."""
        general = self.general
        function, b = general.function(name, CELL)
        entry = b.block
        header, body = (function.append_basic_block(name) for name in ("header", "clock"))
        bail, over = (function.append_basic_block(name) for name in ("bail", "over"))
        b.branch(header)
        b.position_at_end(header)
        self.done = b.phi(CELL)
        self.done.add_incoming(CELL(0), entry)
        self.carried: dict[str, Any] = {}
        b.cbranch(b.icmp_unsigned("<", self.done, function.args[1]), body, over)
        b.position_at_end(body)
        self.header, self.entry = header, entry
        emitter = Emitter(self.pool, b, self._load, general.buffers)
        self.emitter = emitter
        end = self._clock(emitter)
        guard = emitter.any_of(self.guards)
        for each in emitter.troubles:
            guard = b.or_(guard, each)
        following = self._carried_on(emitter, end)
        commit = function.append_basic_block("commit")
        b.cbranch(guard, bail, commit)
        b.position_at_end(commit)
        self.done.add_incoming(b.add(self.done, CELL(1)), commit)
        b.branch(header)
        for variable, value in following.items():
            self.carried[variable].add_incoming(value, commit)
        self._bail(ir.IRBuilder(bail), over)
        self._over(ir.IRBuilder(over))

    def _load(self, b: Any, name: str, width: int) -> Any:
        """A variable of the cells: read once before the first clock, carried from clock to clock if it changes."""
        if name not in self.values:
            self.values[name] = self._loaded(name, width)
        return self.values[name]

    def _loaded(self, name: str, width: int) -> Any:
        first = self.general.load(self._at_entry(), name, width)
        region, _, index = name.partition(".")
        if region in ("ties", "forced") or (region == "slots" and int(index) not in self.moving):
            return first
        phi_builder = ir.IRBuilder(self.header)
        phi_builder.position_at_start(self.header)
        phi = phi_builder.phi(first.type)
        phi.add_incoming(first, self.entry)
        self.carried[name] = phi
        return phi

    def _at_entry(self) -> ir.IRBuilder:
        builder = ir.IRBuilder(self.entry)
        builder.position_before(self.entry.terminator)
        return builder

    def _clock(self, emitter: Emitter) -> _Moment:
        wiring, variable = self.layout.wiring, self.pool.variable
        slots = {n: variable(f"slots.{n}", slot.width) for n, slot in enumerate(wiring.slots)}
        moment = _Moment(
            slots=slots | {self.clock_slot: self.pool.constant(1)},
            kept={n: variable(f"kept.{n}") for n in range(len(wiring.keepers))},
            loops={drive: self.sources.loop(drive) for drive in self.plan.loop_drives},
        )
        rest = self._settling(moment, resting=True)
        self.moving = set(self._round(rest, None).slots)
        self._not_counted(rest, 1)
        before = self._round(rest, None)
        self.seen = self._watched(rest)
        for level in (0, 1):
            moment, before = self._half(emitter, moment, before, level)
        return moment

    # Watching

    def _watched(self, settling: Settling) -> list[Expression]:
        return [level for net in self.watch.changing for level in settling.net(net)]

    def _watch(self, settling: Settling, level: int) -> None:
        """At the end of a tick: has something come that is watched for?"""
        pool = self.pool
        self.guards += [pool.differ(*pair) for pair in zip(self.seen, self._watched(settling), strict=True)]
        for nets, wanted in self.watch.conditions:
            bits, carried = self._number(settling, nets)
            self.guards.append(pool.both(carried, pool.equal(bits, pool.constant(wanted, bits.width))))
        if level and self.watch.counted:
            bits, carried = self._number(settling, self.watch.counted)
            self.guards.append(pool.invert(carried))
            before = pool.variable("counter.3", bits.width)
            starts = pool.read(STARTS, before if self.watch.delayed else bits, 1)
            begins = pool.both(starts, pool.invert(pool.variable("counter.1")))
            count = pool.add(pool.variable("counter.0", 64), pool.join(begins, pool.constant(0, 63)))
            self.counter = {"counter.0": count, "counter.1": starts, "counter.2": before, "counter.3": bits}

    def _number(self, settling: Settling, nets: tuple[NetId, ...]) -> Levels:
        """The nets as a number, and whether all of them carry a level."""
        levels = [settling.net(net) for net in nets]
        return self.pool.join(*(bit for bit, _ in levels)), self.pool.both(*(carried for _, carried in levels))

    def _half(self, emitter: Emitter, moment: _Moment, before: Round, level: int) -> tuple[_Moment, Round]:
        """The clock goes to a level: one round that acts, one that must not."""
        moment = replace(moment, slots=moment.slots | {self.clock_slot: self.pool.constant(level)})
        settling = self._settling(moment)
        acting = self._round(settling, before)
        self.guards += acting.troubles
        self._loops(emitter, settling)
        moment = self._after(settling, moment)
        self._no_asks(acting)
        moment = self._writes(emitter, acting, replace(moment, slots=moment.slots | acting.slots))
        settled = self._settling(moment)
        quiet = self._round(settled, acting, later=True)
        self.guards += quiet.troubles
        self._loops(emitter, settled)
        self._no_asks(quiet)
        self._nothing_changes(quiet, moment)
        self._no_short_pulse(before, acting, quiet)
        self.guards += [self.pool.any_bit(fight.bits) for fight in settled.fights()]
        self._not_counted(settled, level)
        self._watch(settled, level)
        return self._after(settled, moment), quiet

    def _settling(self, moment: _Moment, resting: bool = False) -> Settling:
        self.tag += 1
        sources = replace(
            self.sources,
            slot=moment.slots.__getitem__,
            kept=moment.kept.__getitem__,
            loop=moment.loops.__getitem__,
            memory=lambda n: f"memory.{n}" + "'" * moment.version.get(n, 0),
            touched=lambda n: f"touched.{n}" + "'" * moment.version.get(n, 0),
        )
        return Settling(self.layout, self.pool, self.plan.choice, sources, tag=f"{self.tag}.", resting=resting)

    def _round(self, settling: Settling, before: Round | None, later: bool = False) -> Round:
        zero = self.pool.constant
        was: Callable[[int, int], Expression] = lambda n, w: before.senses[n] if before else zero(0, w)  # noqa: E731
        memo: Callable[[int, int], Expression] = lambda n, w: before.memos[n] if before else zero(0, w)  # noqa: E731
        return Stepper(settling, was, memo, zero(int(later))).round

    @staticmethod
    def _loops(emitter: Emitter, settling: Settling) -> None:
        for loop in settling.loops:
            emitter.loop(loop)

    def _after(self, settling: Settling, moment: _Moment) -> _Moment:
        """Keepers and loops hold what this settling gave them."""
        kept = {n: settling.after_keeping(n) for n in moment.kept}
        return replace(moment, kept=kept, loops={drive: settling.drive(drive) for drive in moment.loops})

    # What must not happen

    def _no_asks(self, step: Round) -> None:
        self.guards += [ask.when for ask in step.asks]

    def _nothing_changes(self, step: Round, moment: _Moment) -> None:
        pool = self.pool
        self.guards += [pool.unequal(value, moment.slots[slot]) for slot, value in step.slots.items()]
        for write in step.writes:
            stored = self.layout.wiring.stores[write.store].memory
            version = "'" * moment.version.get(write.store, 0)
            there = pool.read(f"memory.{write.store}{version}", write.address, stored.width)
            changes = pool.unequal(there, write.data)
            if not stored.keeps:
                known = pool.read(f"touched.{write.store}{version}", write.address, 1)
                changes = pool.either(changes, pool.invert(known))
            self.guards.append(pool.both(write.when, changes))

    def _no_short_pulse(self, before: Round, acting: Round, quiet: Round) -> None:
        for a, b, c in zip(before.senses, acting.senses, quiet.senses, strict=True):
            self.guards.append(self.pool.both(self.pool.differ(a, b), self.pool.differ(b, c)))

    def _not_counted(self, settling: Settling, level: int) -> None:
        """The net of the main clock has the level of the half, or this is no clock that counts."""
        net = self.layout.wiring.netlist.clock
        if net == NO_NET:
            self.guards.append(self.pool.constant(1))
            return
        bit, carried = settling.net(net)
        self.guards += [self.pool.invert(carried), self.pool.differ(bit, self.pool.constant(level))]

    # Memories

    def _writes(self, emitter: Emitter, step: Round, moment: _Moment) -> _Moment:
        """Write to memories; what follows reads them anew."""
        version = dict(moment.version)
        live = [write for write in step.writes if write.when is not self.pool.constant(0)]
        values = [tuple(emitter.value(each) for each in (w.when, w.address, w.data)) for w in live]
        names = {f"{kind}.{w.store}" + "'" * version.get(w.store, 0): None for w in live for kind in KINDS}
        for name in names:
            for read in self.pool.reads_of(name):
                emitter.value(read)  # what was asked of the memory before it changes
        for write, (when, address, data) in zip(live, values, strict=True):
            self._replace(emitter, f"memory.{write.store}", when, address, data)
            if not self.layout.wiring.stores[write.store].memory.keeps:
                self._replace(emitter, f"touched.{write.store}", when, address, bits(8)(1))
            version[write.store] = moment.version.get(write.store, 0) + 1
        for store, count in version.items():
            for name in (f"{kind}.{store}" for kind in KINDS):
                emitter.alias(name + "'" * count, name)
        return replace(moment, version=version)

    def _replace(self, emitter: Emitter, memory: str, when: Any, address: Any, data: Any) -> None:
        b = emitter.builder
        pointer, kind = emitter.cell_of(memory, address)
        old = b.load(pointer, typ=kind)
        new = b.zext(data, kind) if data.type.width < kind.width else data
        b.store(b.select(when, new, old), pointer)
        self.undo.append((memory, pointer, old))

    # Ends

    def _carried_on(self, emitter: Emitter, end: _Moment) -> dict[str, Any]:
        """What each carried variable is in the next clock."""
        found: dict[str, Any] = {}
        slots = [self.sources.slot(slot) for slot in sorted(self.moving)]
        loops = [level for drive in end.loops for level in self.sources.loop(drive)]
        counter = [self.pool.variable(name, value.width) for name, value in self.counter.items()]
        for each in (*slots, *map(self.sources.kept, end.kept), *loops, *counter):
            emitter.value(each)  # also what nothing reads is carried
        while len(found) < len(self.carried):
            for name in list(self.carried):
                if name not in found:
                    found[name] = emitter.value(self._end_of(name, end))
        return found

    def _end_of(self, name: str, end: _Moment) -> Expression:
        if name in self.counter:
            return self.counter[name]
        region, _, index = name.partition(".")
        if region == "slots":
            return end.slots[int(index)]
        if region == "kept":
            return end.kept[int(index)]
        return end.loops[self.plan.loop_drives[int(index) // 2]][int(index) % 2]

    def _bail(self, b: ir.IRBuilder, over: Any) -> None:
        for _, pointer, old in reversed(self.undo):
            b.store(old, pointer)
        b.branch(over)

    def _over(self, b: ir.IRBuilder) -> None:
        general, prime = self.general, self.general.module.get_global("prime")
        for name, phi in self.carried.items():
            region, _, index = name.partition(".")
            general.store(b, region, int(index), phi)
        for region, each in (("ticks", 2), ("clocks", 1)):
            gained = b.mul(self.done, CELL(each))
            general.store(b, region, 0, b.add(general.load(b, f"{region}.0", 64), gained))
        b.call(prime, [general.cells])
        b.ret(self.done)

    # Many clocks

    def _run(self) -> None:
        """``run(cells, n)``: n clocks, fast where that goes; 1 where a tick has to be undone. Ends after a tick in
        which a timer asked for something."""
        general, module = self.general, self.general.module
        function, b = general.function("run", CELL)
        head, slow, high, failed, over = (
            function.append_basic_block(name) for name in ("head", "slow", "high", "failed", "over")
        )
        entry = b.block
        general.store(b, "undone", 0, CELL(0))
        general.store(b, "asked", 0, CELL(0))
        b.branch(head)
        b.position_at_end(head)
        left = b.phi(CELL)
        left.add_incoming(function.args[1], entry)
        rest = b.sub(left, b.call(module.get_global("fast"), [general.cells, left]))
        b.cbranch(b.icmp_unsigned("==", rest, CELL(0)), over, slow)
        b.position_at_end(slow)
        self._slow(b, 0, high, failed, over)
        b.position_at_end(high)
        again = function.append_basic_block("again")
        self._slow(b, 1, again, failed, over)
        b.position_at_end(again)
        fewer = b.sub(rest, CELL(1))
        left.add_incoming(fewer, again)
        b.cbranch(b.icmp_unsigned("==", fewer, CELL(0)), over, head)
        ir.IRBuilder(failed).ret(CELL(1))
        ir.IRBuilder(over).ret(CELL(0))

    def _slow(self, b: ir.IRBuilder, level: int, following: Any, failed: Any, over: Any) -> None:
        """A tick of general code with the clock at a level."""
        general = self.general
        general.store(b, "slots", self.clock_slot, CELL(level))
        status = b.call(general.module.get_global("tick"), [general.cells])
        settled = b.function.append_basic_block("ticked")
        b.cbranch(b.icmp_unsigned("==", status, CELL(0)), settled, failed)
        b.position_at_end(settled)
        b.cbranch(b.icmp_unsigned("==", general.load(b, "asked.0", 64), CELL(0)), following, over)
