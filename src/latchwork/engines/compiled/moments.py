"""Saving a machine that compiled code holds, at rest between two ticks, and going back to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from latchwork.engines.compiled.code import Code
from latchwork.engines.compiled.shared_cells import SharedCells
from latchwork.engines.oracle import Oracle
from latchwork.netlist import NetId


@dataclass(frozen=True)
class Moment:
    """``cells``: all state but the memories; these share the pages that did not change since the moment before."""

    closed: frozenset[int]
    forced: Mapping[NetId, int]
    cells: bytes
    memories: tuple[object, ...]
    time: int
    queue: object
    pulses: tuple[object, ...]
    incidents: tuple[object, ...]
    devices: object


def saved(oracle: Oracle, code: Code, memories: list[SharedCells]) -> Moment:
    """A copy of everything."""
    machine = oracle._machine
    return Moment(
        closed=oracle._closed,
        forced=dict(machine.nets.forced),
        cells=code.live(),
        memories=tuple(memory.saved() for memory in memories),
        time=machine.time,
        queue=machine.queue.saved(),
        pulses=tuple(pulse.saved() for pulse in oracle._pulses.values()),
        incidents=oracle._log.saved(),
        devices=oracle._outside.attached.saved(),
    )


def restore_around(moment: Moment, oracle: Oracle, memories: list[SharedCells]) -> None:
    """Everything but the cells: these belong to the code for switches and probes as they now are."""
    machine = oracle._machine
    if moment.closed != oracle._closed:
        oracle._closed = moment.closed
        oracle._regroup()
    machine.nets.forced = dict(moment.forced)
    machine.nets._fix()
    for memory, contents in zip(memories, moment.memories, strict=True):
        memory.restore(contents)
    machine.time = moment.time
    machine.queue.restore(moment.queue)  # type: ignore[arg-type]
    for pulse, own in zip(oracle._pulses.values(), moment.pulses, strict=True):
        pulse.restore(own)  # type: ignore[arg-type]
    oracle._log.restore(moment.incidents)  # type: ignore[arg-type]
    oracle._outside.attached.restore(moment.devices)
