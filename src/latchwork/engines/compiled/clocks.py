"""Whole clocks as straight code: ``fast`` as long as they are plain, ``run`` with ticks of general code between."""

from __future__ import annotations

from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.clock_code import Written, written
from latchwork.engines.compiled.clock_form import OneClock
from latchwork.engines.compiled.emit import CELL, POINTER, Emitter, bits
from latchwork.engines.compiled.general import General
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.watching import Watch


class Clocks:
    """``fast`` and ``run``, or ``skip`` with a watch, beside the functions of ``general`` and calling them."""

    def __init__(self, general: General, clock_slot: int, watch: Watch | None = None) -> None:
        self.general = general
        self.clock_slot = clock_slot
        self.pool = Pool()
        self.form = OneClock(general.plan, self.pool, watch).form()
        self.values: dict[str, Any] = {}

    def write(self) -> None:
        for name in ("prime", "tick"):
            ir.Function(self.general.module, ir.FunctionType(CELL, [POINTER]), name)
        self._fast("fast")
        self._run()

    def write_skipping(self, name: str) -> None:
        """As ``fast``, under a name of its own, as long as nothing happens that is watched for."""
        ir.Function(self.general.module, ir.FunctionType(CELL, [POINTER]), "prime")
        self._fast(name)

    # One clock after the other

    def _fast(self, name: str) -> None:
        """``fast(cells, n)``: up to n clocks from a falling edge on; returns how many, the cells at rest after them."""
        general = self.general
        function, b = general.function(name, CELL)
        self.entry = b.block
        header, body, bail, commit, over = (
            function.append_basic_block(name) for name in ("header", "clock", "bail", "commit", "over")
        )
        b.branch(header)
        b.position_at_end(header)
        done = b.phi(CELL)
        done.add_incoming(CELL(0), self.entry)
        carried = {name: self._carried(b, name, end.width) for name, end in self.form.ends.items()}
        b.cbranch(b.icmp_unsigned("<", done, function.args[1]), body, over)
        b.position_at_end(body)
        clock = written(Emitter(self.pool, b, self._load, general.buffers), self.form)
        b.cbranch(clock.guard, bail, commit)
        b.position_at_end(commit)
        done.add_incoming(b.add(done, CELL(1)), commit)
        for variable, phi in carried.items():
            phi.add_incoming(clock.ends[variable], commit)
        b.branch(header)
        self._bail(ir.IRBuilder(bail), clock, over)
        self._over(ir.IRBuilder(over), done, carried)

    def _carried(self, b: ir.IRBuilder, name: str, width: int) -> Any:
        """A variable that moves, from clock to clock."""
        phi = self.values[name] = b.phi(bits(width))
        phi.add_incoming(self._first(name, width), self.entry)
        return phi

    def _load(self, b: ir.IRBuilder, name: str, width: int) -> Any:
        """A variable; one that does not move is read once before the first clock."""
        if name not in self.values:
            self.values[name] = self._first(name, width)
        return self.values[name]

    def _first(self, name: str, width: int) -> Any:
        builder = ir.IRBuilder(self.entry)
        builder.position_before(self.entry.terminator)
        return self.general.load(builder, name, width)

    @staticmethod
    def _bail(b: ir.IRBuilder, clock: Written, over: Any) -> None:
        clock.put_back(b)
        b.branch(over)

    def _over(self, b: ir.IRBuilder, done: Any, carried: dict[str, Any]) -> None:
        general, prime = self.general, self.general.module.get_global("prime")
        for name, phi in carried.items():
            region, _, index = name.partition(".")
            general.store(b, region, int(index), phi)
        for region, each in (("ticks", 2), ("clocks", 1)):
            gained = b.mul(done, CELL(each))
            general.store(b, region, 0, b.add(general.load(b, f"{region}.0", 64), gained))
        b.call(prime, [general.cells])
        b.ret(done)

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
