"""A clock's form for known values of some variables; loops that are none with these are taken apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from latchwork.engines.compiled.clock_code import reachable
from latchwork.engines.compiled.clock_form import ClockForm, Step, WriteStep
from latchwork.engines.compiled.folding import Circular, Dependence, Fixed, Folder
from latchwork.engines.compiled.pool import Pool
from latchwork.engines.compiled.settling import LoopStep
from latchwork.logic import Expression, Operation

Known = Mapping[Expression, Expression]


class Specialiser:
    """Of one form: what is worked out once for all values of the ``leaves``."""

    def __init__(self, pool: Pool, form: ClockForm, leaves: Iterable[Expression], fixed: Fixed) -> None:
        self.pool = pool
        self.form = form
        self.loops = [step for step in form.steps if isinstance(step, LoopStep)]
        self.current = [self._variables(loop.current, loop) for loop in self.loops]
        self.final = [self._variables(loop.final, loop) for loop in self.loops]
        inner = [node for names in (*self.current, *self.final) for node in names]
        self.depends = Dependence([*leaves, *inner], fixed)

    def _variables(self, names: tuple[str, ...], loop: LoopStep) -> list[Expression]:
        pairs = zip(names, loop.following, strict=True)
        return [self.pool.variable(name, each.width) for name, each in pairs]

    def special(self, known: Known) -> ClockForm:
        plain = Folder(self.pool, self.depends, known)
        equations: dict[Expression, Expression] = {}
        guards: list[Expression] = []
        parted = set[int]()
        for number in range(len(self.loops)):
            opened = self._equations(number)
            traps = self._traps(number, plain)
            if traps is not None and self._is_straight(number, known, {**equations, **opened}):
                equations |= opened
                guards += traps
                parted.add(number)
        folder = Folder(self.pool, self.depends, known, equations)
        left = {id(loop) for number, loop in enumerate(self.loops) if number not in parted}
        steps = [self._step(step, folder) for step in self.form.steps if _stays(step, left)]
        guards = [*folder.fold_all(guards), *folder.fold_all(self.form.guards)]
        live = dict.fromkeys(guard for guard in guards if guard is not self.pool.constant(0))
        ends = {name: folder.fold(end) for name, end in self.form.ends.items()}
        return ClockForm(tuple(step for step in steps if step is not None), tuple(live), ends)

    # Loops

    def _equations(self, number: int) -> dict[Expression, Expression]:
        following = self.loops[number].following
        pairs = (*zip(self.current[number], following), *zip(self.final[number], following))
        return dict(pairs)

    def _traps(self, number: int, plain: Folder) -> list[Expression] | None:
        """What a loop is not to come across; None where that depends on how far it has come."""
        traps = [trap for trap in self.loops[number].traps if plain.fold(trap) is not self.pool.constant(0)]
        inner = set(self.current[number])
        if any(node in inner for node in reachable(map(plain.fold, traps))):
            return None
        return traps

    def _is_straight(self, number: int, known: Known, equations: Known) -> bool:
        """Whether no word of a loop hangs on itself. It then settles, wherever it starts, well within its bound."""
        folder = Folder(self.pool, self.depends, known, equations)
        try:
            folder.fold_all(self.final[number])
        except Circular:
            return False
        return True

    # Steps

    def _step(self, step: Step, folder: Folder) -> Step | None:
        if isinstance(step, LoopStep):
            return replace(
                step,
                start=tuple(folder.fold_all(step.start)),
                following=tuple(folder.fold_all(step.following)),
                traps=tuple(folder.fold_all(step.traps)),
            )
        return self._write(step, folder)

    def _write(self, step: WriteStep, folder: Folder) -> WriteStep:
        """Also a step that writes nothing gives the memories their new names."""
        stores = []
        for store in step.stores:
            when = folder.fold(store.when)
            if when is not self.pool.constant(0):
                address, data = folder.fold(store.address), folder.fold(store.data)
                stores.append(replace(store, when=when, address=address, data=data))
        return replace(step, stores=tuple(stores))


def _stays(step: Step, loops: set[int]) -> bool:
    return isinstance(step, WriteStep) or id(step) in loops
