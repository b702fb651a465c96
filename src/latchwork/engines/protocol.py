"""What every engine offers, whatever it does inside."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import Protocol

from latchwork.devices import Device
from latchwork.netlist import ChipId, NetId, Netlist


class Value(IntEnum):
    """What a net carries. NOTHING: no driver, pull or keeper."""

    LOW = 0
    HIGH = 1
    UNKNOWN = 2
    NOTHING = 3


@dataclass(frozen=True)
class Incident:
    """Something that a bench would show as trouble.

    ``kind``: "fight" (two enabled drivers differ), "floating" (a deciding input read a net that carries nothing),
    "oscillation", "moving address" (during a level write), "short pulse" (between rounds), "race" (data that
    changes with its derived clock edge), "power-up read" (a memory cell read before it was written). ``nets`` and
    ``chips`` name it; ``sentence`` says it. Where the same happens again it is counted, with the first moment kept.
    """

    kind: str
    time_ps: int
    tick: int
    nets: tuple[NetId, ...]
    chips: tuple[ChipId, ...]
    sentence: str
    count: int = 1


class Simulation(Protocol):
    """A machine under power. Time in picoseconds; a tick is one settling, a clock two ticks of the main clock."""

    @property
    def netlist(self) -> Netlist: ...
    @property
    def time_ps(self) -> int: ...
    @property
    def ticks(self) -> int: ...
    @property
    def clocks(self) -> int: ...
    @property
    def incidents(self) -> Sequence[Incident]: ...

    @property
    def next_time(self) -> int | None:
        """When the next event comes; None where nothing will ever happen again."""

    def tick(self) -> bool:
        """Go to the next event (clock half, timer) and settle. False where nothing will ever happen again."""

    def run(self, clocks: int) -> int:
        """Run until so many rising edges of the main clock have passed; returns how many did."""

    def value(self, net: NetId) -> Value:
        """What the net carries now, settled."""

    def read(self, nets: Iterable[NetId]) -> int | None:
        """The nets as a number, lowest bit first; None where one is unknown or carries nothing."""

    def set_switch(self, chip: ChipId, closed: bool, tie: str = "") -> None:
        """Close or open a switch (of a part with several: by the tie's name); settles."""

    def set_hand(self, chip: ChipId, level: int) -> None:
        """Set the output of a hand-operated source (hand clock, button); settles."""

    def force(self, net: NetId, level: int | None) -> None:
        """Hold a net at a level by an outside driver, None lets it go; for tests and probes; settles."""

    def force_all(self, levels: Mapping[NetId, int | None]) -> None:
        """Force several nets, or let them go, all in one tick."""

    def cell(self, chip: ChipId, address: int, name: str = "") -> int:
        """One cell of a memory of the chip; -1 where it is unknown."""

    def memory(self, chip: ChipId, name: str = "") -> Sequence[int]:
        """A copy of a memory of the chip; unknown cells are -1."""

    def write_memory(self, chip: ChipId, contents: bytes, start: int = 0, name: str = "") -> None:
        """Put bytes into a memory; settles."""

    def state(self, chip: ChipId, name: str) -> int | None:
        """A register, latch or timer of a chip; None where a bit is unknown."""

    def set_state(self, chip: ChipId, name: str, value: int) -> None:
        """Overwrite a register or latch; settles."""

    def forget_incidents(self) -> None:
        """Start the log anew, power-up reads with it: what happened before a reset is of no interest."""

    def attach(self, device: Device) -> None:
        """Join a device to the machine and switch it on: nobody else calls it. Raises DeviceError."""

    def send(self, device: str, data: bytes) -> None:
        """Something from outside for a device, by its name. KeyError; raises DeviceError."""

    def hear(self, ear: Callable[[str, bytes], object] | None) -> None:
        """Who is told what devices emit: name of the device, data."""

    def save(self) -> object:
        """All state, to be handed to ``restore``."""

    def restore(self, saved: object) -> None:
        """Back to a saved moment."""
