"""What a device is: it names the nets it watches, is called at their edges or at a time it asked for, and drives nets.

A device sees settled nets only. What it drives starts a new tick, at the same or a later time; it is never called per
tick. Its behaviour follows from its state and from what it is told, and from nothing else: no clock on the wall, no
chance, no file. What comes from outside (a key, a byte from the terminal) reaches it through ``received``, and what it
has to say to the outside goes through ``Bench.emit``. So a run can be recorded and replayed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import Enum
from typing import NamedTuple, Protocol

from latchwork.netlist import NetId
from latchwork.parts import OutputKind


class Edge(Enum):
    """Which changes of a net a device is called for; ``BOTH`` are all changes, also to and from no level."""

    RISE = "rise"
    FALL = "fall"
    BOTH = "both"


class Watch(NamedTuple):
    """A net that a device watches. ``when``: nets with the levels at which they must stand after the edge for the
    device to be called, such as its chip select; so a busy bus does not call it."""

    net: NetId
    edge: Edge = Edge.BOTH
    when: tuple[tuple[NetId, int], ...] = ()


class Output(NamedTuple):
    """A net that a device may drive. Push-pull outputs always have a level, three-state ones have one or let go,
    open-drain ones (``OPEN_COLLECTOR``) pull low or let go; an interrupt is requested with one of these."""

    net: NetId
    kind: OutputKind = OutputKind.PUSH_PULL


class Bench(Protocol):
    """What an engine lets a device see and do. Times in picoseconds."""

    @property
    def time_ps(self) -> int: ...

    def level(self, net: NetId) -> int | None:
        """0 or 1 as settled; None where it is unknown or nothing drives it."""

    def read(self, nets: Iterable[NetId]) -> int | None:
        """The nets as a number, lowest bit first; None where one is unknown or carries nothing."""

    def drive(self, nets: Sequence[NetId], value: int | None, after: int = 0) -> None:
        """Drive outputs of the device with a number, lowest bit first, so much later; None lets go."""

    def wake(self, after: int) -> None:
        """Ask for a call of ``woken`` so much later."""

    def emit(self, data: bytes) -> None:
        """Say something to the outside: the terminal, a person, a test."""


class Device:
    """A device does nothing by itself; write ``start`` and what you need of the others.

    ``kept``: names of the attributes that are its state. Their values are never changed in place (numbers, bytes,
    tuples), so that saving them is copying them.
    """

    kept: tuple[str, ...] = ()

    def __init__(self, name: str, watches: Iterable[Watch] = (), outputs: Iterable[Output] = ()) -> None:
        self.name = name
        self.watches = tuple(watches)
        self.outputs = tuple(outputs)

    def start(self, bench: Bench) -> None:
        """Power comes on: put all state where it is then. Called when it is attached."""

    def changed(self, bench: Bench, nets: Sequence[NetId]) -> None:
        """Watched edges came with the tick that has just settled."""

    def woken(self, bench: Bench) -> None:
        """A time that it asked for has come, and its tick has settled."""

    def received(self, bench: Bench, data: bytes) -> None:
        """Something came from the outside."""

    def save(self) -> object:
        """All its state."""
        return tuple(getattr(self, name) for name in self.kept)

    def restore(self, saved: object) -> None:
        """Back to what ``save`` gave."""
        assert isinstance(saved, tuple)
        for name, value in zip(self.kept, saved, strict=True):
            setattr(self, name, value)
