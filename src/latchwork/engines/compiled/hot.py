"""The clocks that a machine goes through often, each written for its control word, as blocks that lead to each other.

Within ``hot`` the state of the sequencing is the place in the code; everything else that moves is in registers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.clock_code import written
from latchwork.engines.compiled.emit import CELL, Emitter, bits
from latchwork.engines.compiled.general import General
from latchwork.engines.compiled.ways import Edge, Fork, Node, State, Way, Ways


class Hot:
    """Writes ``hot(cells, n, place)``: up to n clocks from the state at a place on; returns how many went by."""

    def __init__(self, general: General, ways: Ways, edges: Iterable[Edge]) -> None:
        self.general = general
        self.ways = ways
        self.kept = ways.ends.keys() - set(ways.moving)
        self._seen = list(edges)
        self._afters: dict[State, dict[State, None]] = {}  # by states that are like no other before
        self._blocks: dict[State, Any] = {}
        self._steady: dict[str, Any] = {}

    def write(self, name: str, wanted: Callable[[], bool] = lambda: True) -> bool:
        """False, with the function half written, where it is no longer wanted."""
        for before, after in self._seen:
            self._afters.setdefault(self.ways.like(before), {})[after] = None
            if not wanted():
                return False
        self.function, b = self.general.function(name, CELL, CELL)
        self.entry = b.block
        self.done = b.alloca(CELL)
        b.store(CELL(0), self.done)
        self.over = self.function.append_basic_block("over")
        self._waiting: list[State] = []
        self._begin_in(b)
        while self._waiting:
            if not wanted():
                return False
            self._state(self._waiting.pop())
        self._over(ir.IRBuilder(self.over))
        return True

    def _begin_in(self, b: ir.IRBuilder) -> None:
        """To the state where one begins."""
        self._entries = b.switch(self.function.args[2], self.over)
        for before in self._afters:
            self._block(before)

    def places(self) -> dict[State, int]:
        """Where each state is in the code."""
        numbers = {state: place for place, state in enumerate(self._blocks)}
        return {state: numbers[like] for state, like in self.ways.alike() if like in numbers}

    def _block(self, state: State) -> Any:
        """Where the code goes on from a state; it is written in its turn."""
        like = self.ways.like(state)
        if like not in self._blocks:
            block = self.function.append_basic_block("state")
            self._entries.add_case(CELL(len(self._blocks)), block)
            self._blocks[like] = block
            self._waiting.append(like)
        return self._blocks[like]

    def _state(self, state: State) -> None:
        emitter = Emitter(self.ways.pool, ir.IRBuilder(self._blocks[state]), self._load, self.general.buffers)
        self._node(emitter, state, self.ways.leaving(state))

    def _load(self, b: ir.IRBuilder, name: str, width: int) -> Any:
        """A variable, from its cell; one that never moves is read once."""
        if name in self.kept:
            return self.general.load(b, name, width)
        if name not in self._steady:
            builder = ir.IRBuilder(self.entry)
            builder.position_before(self.entry.terminator)
            self._steady[name] = self.general.load(builder, name, width)
        return self._steady[name]

    # Clocks

    def _node(self, emitter: Emitter, state: State, node: Node) -> None:
        match node:
            case Way():
                self._clock(emitter, state, node)
            case Fork():
                self._fork(emitter, state, node)
            case None:
                emitter.builder.branch(self.over)

    def _fork(self, emitter: Emitter, state: State, fork: Fork) -> None:
        parts = [emitter.value(node) for node in fork.nodes.values()]
        value = self._side_by_side(emitter.builder, parts)
        ways = {
            number: way for number in fork.taken(self._afters.get(state, ())) if (way := fork.way(number)) is not None
        }
        choice = emitter.builder.switch(value, self.over)
        for number, way in ways.items():
            block = self.function.append_basic_block("way")
            choice.add_case(value.type(number), block)
            self._node(emitter.branch(ir.IRBuilder(block)), state, way)

    @staticmethod
    def _side_by_side(b: ir.IRBuilder, parts: list[Any]) -> Any:
        kind = bits(sum(each.type.width for each in parts))
        value, at = kind(0), 0
        for each in parts:
            wide = b.zext(each, kind) if each.type.width < kind.width else each
            value, at = b.or_(value, b.shl(wide, kind(at))), at + each.type.width
        return value

    def _clock(self, emitter: Emitter, state: State, way: Way) -> None:
        form = way.form
        moved = {name: end for name, end in form.ends.items() if name in self.kept and end.data != name}
        clock = written(emitter, replace(form, ends=moved))
        b = emitter.builder
        if form.guards:
            bail, commit = (self.function.append_basic_block(name) for name in ("bail", "commit"))
            b.cbranch(clock.guard, bail, commit)
            undo = ir.IRBuilder(bail)
            clock.put_back(undo)
            undo.branch(self.over)
            b.position_at_end(commit)
        after = zip(self.ways.moving, way.after, strict=True)
        for name, value in (*clock.ends.items(), *((name, CELL(value)) for name, value in after)):
            self._store(b, name, value)
        done = b.add(b.load(self.done, typ=CELL), CELL(1))
        b.store(done, self.done)
        on = self._block((*way.after, *state[len(way.after) :]))
        b.cbranch(b.icmp_unsigned("<", done, self.function.args[1]), on, self.over)

    # Cells

    def _store(self, b: ir.IRBuilder, name: str, value: Any) -> None:
        region, _, index = name.partition(".")
        self.general.store(b, region, int(index), value)

    def _over(self, b: ir.IRBuilder) -> None:
        done = b.load(self.done, typ=CELL)
        for name, each in (("ticks.0", 2), ("clocks.0", 1)):
            gained = b.mul(done, CELL(each))
            self._store(b, name, b.add(self.general.load(b, name, 64), gained))
        b.ret(done)
