"""Saving a machine under power at rest between two ticks, and going back to it."""

from __future__ import annotations

from dataclasses import dataclass

from latchwork.engines.oracle.known import Pair
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.rounds import Rounds
from latchwork.engines.oracle.trouble import Trouble


@dataclass(frozen=True)
class Saved:
    """All state of a moment. ``nets``, ``lists`` and ``rounds`` are in the order in which they are put back."""

    closed: frozenset[int]
    moment: tuple[int, ...]
    time: int
    lists: tuple[tuple[object, ...], ...]
    nets: tuple[object, ...]
    cells: tuple[object, ...]
    queue: object
    senses: tuple[tuple[Pair, Pair], ...]
    elements: tuple[tuple[object, ...], ...]
    rounds: tuple[frozenset[int], frozenset[int]]
    incidents: tuple[object, ...]
    fighting: frozenset[object]
    devices: object = None


def _lists(machine: Machine) -> list[list]:  # type: ignore[type-arg]
    nets = machine.nets
    now, before = ([each for environment in pair for each in environment[:2]] for pair in (machine.now, machine.before))
    return [
        *now, *before, machine.bits, machine.certain, machine.before[0][2], machine.before[0][3], machine.masks_before,
        nets.results, nets.masks, nets.strong, nets.final, nets.kept,
    ]  # fmt: skip


def saved(machine: Machine, rounds: Rounds, trouble: Trouble, closed: frozenset[int], moment: tuple[int, ...]) -> Saved:
    """A copy of everything."""
    nets = machine.nets
    unsettled = {rank: frozenset(held) for rank, held in nets.unsettled.items()}
    return Saved(
        closed=closed,
        moment=moment,
        time=machine.time,
        lists=tuple(tuple(each) for each in _lists(machine)),
        nets=(dict(nets.forced), frozenset(nets.closed), dict(nets.held), unsettled, frozenset(nets.suspects)),
        cells=tuple(cells.saved() for cells in machine.cells),
        queue=machine.queue.saved(),
        senses=tuple((sense.was, sense.now) for element in rounds.elements for sense in element.senses),
        elements=tuple(element.saved() for element in rounds.elements),
        rounds=(frozenset(rounds.pending), frozenset(rounds.restless)),
        incidents=trouble.log.saved(),
        fighting=frozenset(trouble.fighting),
    )


def restored(state: Saved, machine: Machine, rounds: Rounds, trouble: Trouble) -> None:
    """Put everything back; the nets are grouped as they were already."""
    machine.time = state.time
    for place, copy in zip(_lists(machine), state.lists, strict=True):
        place[:] = copy
    for cells, contents in zip(machine.cells, state.cells, strict=True):
        cells.restore(contents)  # type: ignore[arg-type]
    machine.queue.restore(state.queue)  # type: ignore[arg-type]
    senses = [sense for element in rounds.elements for sense in element.senses]
    for sense, (was, now) in zip(senses, state.senses, strict=True):
        sense.was, sense.now, sense.turns = was, now, 0
    for element, own in zip(rounds.elements, state.elements, strict=True):
        element.restore(own)
    rounds.pending, rounds.restless = set(state.rounds[0]), set(state.rounds[1])
    machine.nets.restore(*state.nets)  # type: ignore[arg-type]
    trouble.log.restore(state.incidents)  # type: ignore[arg-type]
    trouble.fighting = set(state.fighting)  # type: ignore[arg-type]
