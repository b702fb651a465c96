"""A clock's form as instructions: its steps in order, whether it holds, what everything is after it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from llvmlite import ir

from latchwork.engines.compiled.clock_form import ClockForm, Step, WriteStep
from latchwork.engines.compiled.emit import Emitter
from latchwork.logic import Expression, Operation


@dataclass
class Written:
    """``guard``: 1 where nothing of it holds; ``ends``: variables after the clock. ``undo``: pointers to words that
    were written, each with what it held before, in order."""

    guard: Any = None
    ends: dict[str, Any] = field(default_factory=dict)
    undo: list[tuple[Any, Any]] = field(default_factory=list)

    def put_back(self, b: ir.IRBuilder) -> None:
        for pointer, old in reversed(self.undo):
            b.store(old, pointer)


def written(emitter: Emitter, form: ClockForm) -> Written:
    """Write a form where the emitter stands."""
    found = Written()
    for place, step in enumerate(form.steps):
        if isinstance(step, WriteStep) and not step.stores:
            _rename(emitter, step)
        elif isinstance(step, WriteStep):
            _reads_before(emitter, step, form, place)
            _write(emitter, step, found)
        else:
            emitter.loop(step)
    found.guard = emitter.any_of(form.guards)
    for each in emitter.troubles:
        found.guard = emitter.builder.or_(found.guard, each)
    found.ends = {name: emitter.value(end) for name, end in form.ends.items()}
    return found


def _reads_before(emitter: Emitter, step: WriteStep, form: ClockForm, place: int) -> None:
    """What will be asked of the memories as they are before they change."""
    later = [root for each in form.steps[place:] for root in roots(each)]
    for node in reachable([*later, *form.guards, *form.ends.values()]):
        if node.operation is Operation.READ and node.data in step.names:
            emitter.value(node)


def _write(emitter: Emitter, step: WriteStep, found: Written) -> None:
    values = [tuple(emitter.value(each) for each in (w.when, w.address, w.data)) for w in step.stores]
    b = emitter.builder
    for store, (when, address, data) in zip(step.stores, values, strict=True):
        pointer, kind = emitter.cell_of(store.memory, address)
        old = b.load(pointer, typ=kind)
        new = b.zext(data, kind) if data.type.width < kind.width else data
        b.store(b.select(when, new, old), pointer)
        found.undo.append((pointer, old))
    _rename(emitter, step)


def _rename(emitter: Emitter, step: WriteStep) -> None:
    for name, memory in step.aliases:
        emitter.alias(name, memory)


def roots(step: Step) -> Iterable[Expression]:
    """The expressions that a step asks for outside itself."""
    if isinstance(step, WriteStep):
        return [each for store in step.stores for each in (store.when, store.address, store.data)]
    return step.start


def inside(step: Step) -> Iterable[Expression]:
    """All expressions of a step."""
    return roots(step) if isinstance(step, WriteStep) else (*step.start, *step.following, *step.traps)


def reachable(roots: Iterable[Expression]) -> list[Expression]:
    """Every node in some expressions, in no order that means anything."""
    seen = dict.fromkeys(roots)
    waiting = list(seen)
    while waiting:
        for arg in waiting.pop().args:
            if arg not in seen:
                seen[arg] = None
                waiting.append(arg)
    return list(seen)
