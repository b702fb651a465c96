"""The clocks that a machine goes through often, each written for its control word, as blocks that lead to each other.

A state is the values of the sequencing slots. Within ``hot`` they are the place in the code, and everything else that
moves is in registers. From a state there may be several ways on: an opcode that is fetched, a flag that is asked. Each
that is known to be taken has its own block, in which the state at the end of the clock is known too, so that also the
look at whether the machine is quiet in its new state folds to what one control word leaves of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.clock_code import reachable, written
from latchwork.engines.compiled.clock_form import ClockForm, WriteStep
from latchwork.engines.compiled.emit import CELL, Emitter, bits
from latchwork.engines.compiled.folding import Fixed, assumable, assume
from latchwork.engines.compiled.general import General
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.specialise import Specialiser
from latchwork.logic import Expression, Operation

State = tuple[int, ...]
"""Values of the sequencing slots, then of those that stand still."""

Edge = tuple[State, State]


@dataclass(frozen=True)
class _Ways:
    """The form of a clock from one state on, and what of the next state is open in it, by slot."""

    form: ClockForm
    open: dict[str, Expression]

    @property
    def width(self) -> int:
        return sum(each.width for each in self.open.values())


class Ways:
    """Forms of clocks by state, kept from one compilation to the next. ``moving`` and ``still``: names of the slots
    whose values make a state."""

    def __init__(self, pool: Pool, form: ClockForm, moving: tuple[str, ...], still: tuple[str, ...], widths: Mapping[str, int]) -> None:  # fmt: skip
        self.pool = pool
        self.moving = moving
        self.still = still
        self.fixed: Fixed = {}
        self.leaves = [pool.variable(name, widths[name]) for name in (*moving, *still)]
        self.form = replace(form, ends={name: end for name, end in form.ends.items() if not name.startswith("loops.")})
        self._from: dict[State, _Ways | None] = {}
        self._along: dict[Edge, ClockForm | None] = {}
        self._special: Specialiser | None = None

    def leaving(self, state: State) -> _Ways | None:
        """None where a clock can't be written for this state alone."""
        if state not in self._from:
            self._from[state] = self._leaving(state)
        return self._from[state]

    def along(self, edge: Edge) -> ClockForm | None:
        """The form of a clock that goes from one state to another."""
        if edge not in self._along:
            self._along[edge] = self._form_along(edge)
        return self._along[edge]

    def _leaving(self, state: State) -> _Ways | None:
        if self._special is None:
            self._special = Specialiser(self.pool, self.form, self.leaves, self.fixed)
        pairs = zip(self.leaves, state, strict=True)
        form = self._special.special({leaf: self.pool.constant(value, leaf.width) for leaf, value in pairs})
        open_ = {name: form.ends[name] for name in self.moving if form.ends[name].operation is not Operation.CONSTANT}
        found = _Ways(form, open_)
        return found if found.width <= 64 and _is_plain(open_.values()) else None

    def _form_along(self, edge: Edge) -> ClockForm | None:
        ways = self.leaving(edge[0])
        if ways is None:
            return None
        after = dict(zip(self.moving, edge[1], strict=False))
        if any(ways.form.ends[name].data != after[name] for name in self.moving if name not in ways.open):
            return None
        form = ways.form
        if ways.open:
            known: dict[Expression, Expression] = {}
            for name, node in ways.open.items():
                assume(self.pool, node, after[name], known)
            leaves = [each for node in ways.open.values() for each in assumable(node)]
            form = Specialiser(self.pool, form, leaves, self.fixed).special(known)
        return form if _is_without_loops(form) else None


def _is_plain(nodes: Iterable[Expression]) -> bool:
    """Whether nothing is read that the clock itself wrote, or that a loop gives."""
    return not any(_is_late(node) for node in reachable(nodes))


def _is_late(node: Expression) -> bool:
    return isinstance(node.data, str) and (node.data.endswith("'") or "loop" in node.data)


def _is_without_loops(form: ClockForm) -> bool:
    whole = all(isinstance(step, WriteStep) for step in form.steps)
    nodes = reachable([*form.guards, *form.ends.values()])
    return whole and not any(n.operation is Operation.VARIABLE and "loop" in str(n.data) for n in nodes)


class Hot:
    """Writes ``hot(cells, n, place)``: up to n clocks from the state at a place on; returns how many went by."""

    def __init__(self, general: General, ways: Ways, edges: Iterable[Edge]) -> None:
        self.general = general
        self.ways = ways
        self.following: dict[State, dict[State, ClockForm]] = {}
        for edge in edges:
            form = ways.along(edge)
            if form is not None:
                self.following.setdefault(edge[0], {})[edge[1]] = form
        self.places = {state: place for place, state in enumerate(self.following)}
        self._exits: dict[State, Any] = {}

    def write(self, name: str) -> None:
        function, b = self.general.function(name, CELL, CELL)
        self.function = function
        self.kept = {name: end.width for name, end in self.ways.form.ends.items() if name not in self.ways.moving}
        self.homes = {name: b.alloca(bits(width)) for name, width in self.kept.items()}
        for each, width in self.kept.items():
            b.store(self.general.load(b, each, width), self.homes[each])
        self.steady: dict[str, Any] = {}
        self.entry = b.block
        self.done = b.alloca(CELL)
        b.store(CELL(0), self.done)
        self.over = function.append_basic_block("over")
        self.blocks = {state: function.append_basic_block("state") for state in self.following}
        choice = b.switch(function.args[2], self.over)
        for state, place in self.places.items():
            choice.add_case(CELL(place), self.blocks[state])
        for state, ways in self.following.items():
            self._state(state, ways)
        self._over(ir.IRBuilder(self.over))

    def _load(self, b: ir.IRBuilder, name: str, width: int) -> Any:
        if name in self.homes:
            return b.load(self.homes[name], typ=bits(width))
        if name not in self.steady:
            builder = ir.IRBuilder(self.entry)
            builder.position_before(self.entry.terminator)
            self.steady[name] = self.general.load(builder, name, width)
        return self.steady[name]

    def _state(self, state: State, following: dict[State, ClockForm]) -> None:
        b = ir.IRBuilder(self.blocks[state])
        emitter = Emitter(self.ways.pool, b, self._load, self.general.buffers)
        ways = self.ways.leaving(state)
        assert ways is not None
        if not ways.open:
            for after, form in following.items():
                self._edge(emitter, (state, after), form)
            return
        parts = {name: emitter.value(node) for name, node in ways.open.items()}
        choice = b.switch(self._number(b, parts), self._exit(state))
        for after, form in following.items():
            block = self.function.append_basic_block("way")
            values = dict(zip(self.ways.moving, after, strict=False))
            number, at = 0, 0
            for name, node in ways.open.items():
                number, at = number | values[name] << at, at + node.width
            choice.add_case(choice.value.type(number), block)
            self._edge(emitter.branch(ir.IRBuilder(block)), (state, after), form)

    @staticmethod
    def _number(b: ir.IRBuilder, parts: Mapping[str, Any]) -> Any:
        kind, number, at = bits(sum(each.type.width for each in parts.values())), None, 0
        for each in parts.values():
            wide = b.zext(each, kind) if each.type.width < kind.width else each
            placed = b.shl(wide, kind(at)) if at else wide
            number, at = placed if number is None else b.or_(number, placed), at + each.type.width
        return number

    def _edge(self, emitter: Emitter, edge: Edge, form: ClockForm) -> None:
        state, after = edge
        moved = {name: end for name, end in form.ends.items() if name in self.kept and end.data != name}
        clock = written(emitter, replace(form, ends=moved))
        b = emitter.builder
        if form.guards:
            bail, commit = (self.function.append_basic_block(name) for name in ("bail", "commit"))
            b.cbranch(clock.guard, bail, commit)
            undo = ir.IRBuilder(bail)
            clock.put_back(undo)
            undo.branch(self._exit(state))
            b.position_at_end(commit)
        for name, value in clock.ends.items():
            b.store(value, self.homes[name])
        done = b.add(b.load(self.done, typ=CELL), CELL(1))
        b.store(done, self.done)
        on = self.blocks.get(after) or self._exit(after)
        b.cbranch(b.icmp_unsigned("<", done, self.function.args[1]), on, self._exit(after))

    def _exit(self, state: State) -> Any:
        """Where one leaves in a state."""
        if state not in self._exits:
            block = self._exits[state] = self.function.append_basic_block("exit")
            b = ir.IRBuilder(block)
            for name, value in zip(self.ways.moving, state, strict=False):
                region, _, index = name.partition(".")
                self.general.store(b, region, int(index), CELL(value))
            b.branch(self.over)
        return self._exits[state]

    def _over(self, b: ir.IRBuilder) -> None:
        general = self.general
        done = b.load(self.done, typ=CELL)
        for name, width in self.kept.items():
            region, _, index = name.partition(".")
            general.store(b, region, int(index), b.load(self.homes[name], typ=bits(width)))
        for region, each in (("ticks", 2), ("clocks", 1)):
            gained = b.mul(done, CELL(each))
            general.store(b, region, 0, b.add(general.load(b, f"{region}.0", 64), gained))
        b.ret(done)
