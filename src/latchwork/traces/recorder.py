"""Recording a running machine: look at some nets after each tick and keep what changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from latchwork.netlist import NetId
from latchwork.traces.trace import Change, Signal, Trace

_LETTERS = "01xz"  # by the numbers of engines' values: low, high, unknown, nothing


class Source(Protocol):
    """What is recorded: anything that has a time and tells what a net carries (0, 1, 2 unknown, 3 nothing)."""

    @property
    def time_ps(self) -> int: ...

    def value(self, net: NetId, /) -> int: ...


class Recorder:
    """``signals``: name -> nets, lowest bit first. Call ``sample`` after each tick, ``trace`` in the end."""

    def __init__(self, source: Source, signals: Mapping[str, Sequence[NetId]]) -> None:
        self._source = source
        self._nets = {name: tuple(reversed(nets)) for name, nets in signals.items()}
        self._changes: dict[str, list[Change]] = {name: [] for name in signals}
        self.sample()

    def sample(self) -> None:
        """Note what differs from the last time. Where two ticks share a moment the later one counts."""
        now = self._source.time_ps
        for name, nets in self._nets.items():
            levels = "".join(_LETTERS[self._source.value(net)] for net in nets)
            _note(self._changes[name], Change(now, levels))

    def trace(self) -> Trace:
        """What was recorded so far."""
        signals = (Signal(name, len(nets), tuple(self._changes[name])) for name, nets in self._nets.items())
        return Trace(tuple(signals), self._source.time_ps)


def _note(changes: list[Change], change: Change) -> None:
    if changes and changes[-1].time_ps == change.time_ps:
        changes.pop()
    if not changes or changes[-1].levels != change.levels:
        changes.append(change)
