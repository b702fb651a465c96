"""A clock's form for known values of some variables; loops that are none with these are taken apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from latchwork.engines.compiled.clock_code import reachable
from latchwork.engines.compiled.clock_form import ClockForm, Step, WriteStep
from latchwork.engines.compiled.folding import CircularError, Dependence, Fixed, Folder
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.settling import LoopStep
from latchwork.logic import Expression

Known = Mapping[Expression, Expression]


class Specialiser:
    """Of one form: what is worked out once for all values of the ``leaves``."""

    def __init__(self, pool: Pool, form: ClockForm, leaves: Iterable[Expression], fixed: Fixed) -> None:
        self.pool = pool
        self.form = form
        loops = [step for step in form.steps if isinstance(step, LoopStep)]
        self.inner = {id(step): (self._named(step.current, step), self._named(step.final, step)) for step in loops}
        inner = [node for pair in self.inner.values() for nodes in pair for node in nodes]
        self.depends = Dependence([*leaves, *inner], fixed)

    def _named(self, names: tuple[str, ...], loop: LoopStep) -> list[Expression]:
        pairs = zip(names, loop.following, strict=True)
        return [self.pool.variable(name, each.width) for name, each in pairs]

    def special(self, known: Known) -> tuple[ClockForm, list[Expression]]:
        """The form, and the bits that words of fixed memories still hang on in it."""
        found = _Special(self, known)
        for step in self.form.steps:
            if isinstance(step, WriteStep):
                found.write(step)
            else:
                found.loop(step)
        return found.form(), list(found.folder.asked)


class _Special:
    """The form for one set of values, step by step."""

    def __init__(self, of: Specialiser, known: Known) -> None:
        self.of = of
        self.pool = of.pool
        self.known = known
        self.equations: dict[Expression, Expression] = {}
        self.same: dict[str, str] = {}
        self.guards: list[Expression] = []
        self.steps: list[Step] = []
        self.folder = Folder(of.pool, of.depends, known, self.equations, self.same)

    def form(self) -> ClockForm:
        guards = self.folder.fold_all([*self.guards, *self.of.form.guards])
        live = dict.fromkeys(guard for guard in guards if guard is not self.pool.constant(0))
        ends = {name: self.folder.fold(end) for name, end in self.of.form.ends.items()}
        return ClockForm(tuple(self.steps), tuple(live), ends)

    def loop(self, step: LoopStep) -> None:
        """A loop in which no word hangs on itself settles, wherever it starts, well within its bound."""
        current, final = self.of.inner[id(step)]
        opened = dict([*zip(current, step.following, strict=True), *zip(final, step.following, strict=True)])
        traps = self._traps(step, current)
        if traps is not None and self._is_straight(final, opened):
            self.equations |= opened
            self.guards += traps
            return
        fold = self.folder.fold_all
        start, following, traps_ = fold(step.start), fold(step.following), fold(step.traps)
        self.steps.append(replace(step, start=tuple(start), following=tuple(following), traps=tuple(traps_)))

    def _traps(self, step: LoopStep, current: list[Expression]) -> list[Expression] | None:
        """What a loop is not to come across; None where that depends on how far it has come."""
        fold = Folder(self.pool, self.of.depends, self.known, dict(self.equations), self.same).fold
        traps = [trap for trap in step.traps if fold(trap) is not self.pool.constant(0)]
        inner = set(current)
        return None if any(node in inner for node in reachable(map(fold, traps))) else traps

    def _is_straight(self, final: list[Expression], opened: Known) -> bool:
        equations = {**self.equations, **opened}
        try:
            Folder(self.pool, self.of.depends, self.known, equations, self.same).fold_all(final)
        except CircularError:
            return False
        return True

    def write(self, step: WriteStep) -> None:
        """Also a step that writes nothing gives the memories their new names."""
        fold, stores = self.folder.fold, []
        for store in step.stores:
            when = fold(store.when)
            if when is not self.pool.constant(0):
                stores.append(replace(store, when=when, address=fold(store.address), data=fold(store.data)))
        written = {store.memory for store in stores}
        self.same |= {alias: self._before(step, name) for alias, name in step.aliases if name not in written}
        if stores:
            self.steps.append(replace(step, stores=tuple(stores)))

    def _before(self, step: WriteStep, memory: str) -> str:
        """What a memory is called before a step."""
        name = next((each for each in step.names if each.rstrip("'") == memory), memory)
        return self.same.get(name, name)
