"""The forms of a clock by the state that it begins in, and by the ways on from there.

A state is the values of the sequencing slots. From a state there may be several ways on: a flag that is asked, an
opcode that is fetched. Along each of them the state at the end of the clock is known too, so that also the look at
whether the machine is quiet in its new state folds to what one control word leaves of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from latchwork.engines.compiled.clock_code import inside, reachable
from latchwork.engines.compiled.clock_form import ClockForm, WriteStep
from latchwork.engines.compiled.folding import Fixed, assumable, assume
from latchwork.engines.compiled.pool import Pool, number
from latchwork.engines.compiled.specialise import Known, Specialiser
from latchwork.logic import Expression, Operation
from latchwork.logic.evaluate import mask

State = tuple[int, ...]
"""Values of the sequencing slots, then of those that stand still."""

Edge = tuple[State, State]

WIDEST_CHOICE = 64


@dataclass(frozen=True)
class Way:
    """A clock that ends in a state of which the values of the sequencing slots are known."""

    form: ClockForm
    after: State


class Fork:
    """Ways on by the value of some nodes, side by side, lowest first: a bit of ``asked``, or what of the next state is
    open. ``later``: bits to be asked after it."""

    def __init__(
        self, ways: Ways, form: ClockForm, nodes: dict[str, Expression], asked: bool, later: Sequence[Expression] = ()
    ) -> None:
        self._ways = ways
        self._form = form
        self.nodes = nodes
        self.asked = asked
        self._later = later
        leaves = [each for node in nodes.values() for each in assumable(node)]
        self._special = Specialiser(ways.pool, form, leaves, ways.fixed)
        self._found: dict[int, Node] = {}

    def way(self, value: int) -> Node:
        if value not in self._found:
            self._found[value] = self._along(value)
        return self._found[value]

    def taken(self, afters: Iterable[State]) -> Iterator[int]:
        """The values to be looked at: all of what is asked, else those that lead to one of some states."""
        if self.asked:
            yield from range(1 << len(self.nodes))
            return
        yield from dict.fromkeys(value for after in afters if (value := self._leads(after)) is not None)

    def _leads(self, after: State) -> int | None:
        value, at = 0, 0
        for name, wanted in zip(self._ways.moving, after, strict=False):
            end = self._form.ends[name]
            if name in self.nodes:
                value, at = value | wanted << at, at + end.width
            elif number(end) != wanted:
                return None
        return value

    def _along(self, value: int) -> Node:
        known: dict[Expression, Expression] = {}
        for node in self.nodes.values():
            assume(self._ways.pool, node, value & mask(node.width), known)
            value >>= node.width
        form, asked = self._special.special(known)
        return self._ways.node(form, [*self._later, *asked])


Node = Way | Fork | None
"""None where the clock can't be written for this state alone."""


class Ways:
    """Forms by state, kept from one compilation to the next. ``moving`` and ``still``: names of the slots whose values
    make a state; ``fixed``: memories that nothing writes."""

    def __init__(
        self,
        pool: Pool,
        form: ClockForm,
        moving: tuple[str, ...],
        still: tuple[str, ...],
        *,
        widths: Mapping[str, int],
        fixed: Fixed,
    ) -> None:
        self.pool = pool
        self.moving = moving
        self.still = still
        self.fixed = fixed
        self.ends = {name: end.width for name, end in form.ends.items() if not name.startswith("loops.")}
        self._leaves = [pool.variable(name, widths[name]) for name in (*moving, *still)]
        form = replace(form, ends={name: form.ends[name] for name in self.ends})
        self._special = Specialiser(pool, form, self._leaves, fixed)
        self._same: dict[State, State] = {}
        self._of_form: dict[object, State] = {}
        self._from: dict[State, Node] = {}

    def leaving(self, state: State) -> Node:
        """The ways on from a state."""
        return self._from[self.like(state)]

    def like(self, state: State) -> State:
        """The first state that came up from which everything goes on as from this one: the step that fetches, after
        whatever opcode."""
        if state not in self._same:
            form, asked = self._special.special(self._known(state))
            key = (form.steps, form.guards, tuple(form.ends.items()), state[len(self.moving) :])
            first = self._same[state] = self._of_form.setdefault(key, state)
            if first == state:
                self._from[state] = self.node(form, asked)
        return self._same[state]

    def alike(self) -> list[tuple[State, State]]:
        """Every state that came up, with the first one that is like it."""
        return list(self._same.items())

    def _known(self, state: State) -> Known:
        pairs = zip(self._leaves, state, strict=True)
        return {leaf: self.pool.constant(value, leaf.width) for leaf, value in pairs}

    def node(self, form: ClockForm, asked: list[Expression]) -> Node:
        if asked and (wanted := _wanted(form, asked)):
            return Fork(self, form, {"": wanted[0]}, asked=True, later=wanted[1:])
        ends = {name: form.ends[name] for name in self.moving}
        open_ = {name: end for name, end in ends.items() if end.operation is not Operation.CONSTANT}
        if not open_:
            return Way(form, tuple(map(number, ends.values()))) if _is_straight(form) else None
        fits = sum(end.width for end in open_.values()) <= WIDEST_CHOICE
        return Fork(self, form, open_, asked=False) if fits and _is_plain(open_.values()) else None


def _wanted(form: ClockForm, asked: list[Expression]) -> list[Expression]:
    """Of bits that were asked, those that something in a form still hangs on."""
    nodes = set(reachable([*form.guards, *form.ends.values(), *(each for step in form.steps for each in inside(step))]))
    return [node for node in dict.fromkeys(asked) if node in nodes and _is_plain([node])]


def _is_plain(nodes: Iterable[Expression]) -> bool:
    """Whether nothing is read that the clock itself wrote, or that a loop gives."""
    return not any(isinstance(node.data, str) and _is_late(node.data) for node in reachable(nodes))


def _is_late(name: str) -> bool:
    return name.endswith("'") or "loop" in name


def _is_straight(form: ClockForm) -> bool:
    """Whether no loop is left, and nothing hangs on what one gave before."""
    whole = all(isinstance(step, WriteStep) for step in form.steps)
    nodes = reachable([*form.guards, *form.ends.values()])
    return whole and not any(n.operation is Operation.VARIABLE and "loop" in str(n.data) for n in nodes)
