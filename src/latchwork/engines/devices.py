"""Devices on a running machine, the same for every engine: who is called when, and what comes of a mistake."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Protocol

from latchwork.devices import Device, Edge, Output, Watch
from latchwork.engines.protocol import Value
from latchwork.netlist import NetId
from latchwork.parts import OutputKind
from latchwork.problems import LatchworkError, Problem

RESTLESS = 1000
"""So many ticks at one moment, asked for by devices, are taken for a circle that never ends."""


class DeviceError(LatchworkError):
    """A device raised. The machine stands settled, and can be looked at; the device is called no more."""

    def __init__(self, device: str, doing: str, reason: str) -> None:
        message = f'the device "{device}" failed {doing}: {reason}'
        hint = "the machine stands as it did then; the device is called no more"
        super().__init__(Problem("R203", message, help=hint))
        self.device = device


class Host(Protocol):
    """What an engine does for its devices. Drivers and devices are known by number, in order of attachment."""

    @property
    def time_ps(self) -> int: ...
    @property
    def ticks(self) -> int: ...
    def value(self, net: NetId) -> Value: ...
    def values(self, nets: Sequence[NetId]) -> list[Value]: ...
    def read(self, nets: Iterable[NetId]) -> int | None: ...
    def plan_drive(self, time: int, driver: int, level: int | None) -> None: ...
    def plan_wake(self, time: int, device: int) -> None: ...


class AttachedBench:
    """Fulfils ``devices.Bench`` for one device."""

    def __init__(self, host: Host, number: int, device: Device, first: int, hear: Callable[[str, bytes], None]) -> None:
        self.host = host
        self.number = number
        self.device = device
        self.drivers = {output.net: (first + n, output) for n, output in enumerate(device.outputs)}
        self.hear = hear

    @property
    def time_ps(self) -> int:
        return self.host.time_ps

    def level(self, net: NetId) -> int | None:
        value = self.host.value(net)
        return int(value) if value in (Value.LOW, Value.HIGH) else None

    def read(self, nets: Iterable[NetId]) -> int | None:
        return self.host.read(nets)

    def drive(self, nets: Sequence[NetId], value: int | None, after: int = 0) -> None:
        if value is not None and not 0 <= value < 1 << len(nets):
            raise ValueError(f"{value} does not fit {len(nets)} nets")
        for bit, net in enumerate(nets):
            self._drive(net, None if value is None else value >> bit & 1, after)

    def _drive(self, net: NetId, level: int | None, after: int) -> None:
        if net not in self.drivers:
            raise ValueError(f"net {net} is no output of the device")
        driver, output = self.drivers[net]
        if output.kind is OutputKind.PUSH_PULL and level is None:
            raise ValueError("a push-pull output can't let go")
        if output.kind is OutputKind.OPEN_COLLECTOR and level == 1:
            raise ValueError("an open-drain output can't drive high; let it go (None)")
        self.host.plan_drive(self._later(after), driver, level)

    def wake(self, after: int) -> None:
        self.host.plan_wake(self._later(after), self.number)

    def _later(self, after: int) -> int:
        if after < 0:
            raise ValueError("nothing can be asked for in the past")
        return self.host.time_ps + after

    def emit(self, data: bytes) -> None:
        self.hear(self.device.name, data)


class Attachments:
    """All devices of a machine. ``ear`` hears what they emit: name of the device, data."""

    def __init__(self, host: Host) -> None:
        self.host = host
        self.benches: list[AttachedBench] = []
        self.outputs: list[Output] = []
        self.ear: Callable[[str, bytes], object] | None = None
        self._watchers: dict[NetId, list[tuple[int, Watch]]] = {}
        self._was: dict[NetId, Value] = {}
        self._failed: frozenset[int] = frozenset()
        self._moment = (-1, 0)

    def refuse_twice(self, device: Device) -> None:
        """ValueError where the name is taken."""
        if any(bench.device.name == device.name for bench in self.benches):
            raise ValueError(f'there is a device "{device.name}" already')

    def attach(self, device: Device) -> None:
        """Take it in and make its first call, while the machine is settled. ValueError where the name is taken."""
        self.refuse_twice(device)
        number = len(self.benches)
        self.benches.append(AttachedBench(self.host, number, device, len(self.outputs), self._hear))
        self.outputs += device.outputs
        for watch in device.watches:
            self._watchers.setdefault(watch.net, []).append((number, watch))
            self._was[watch.net] = self.host.value(watch.net)
        bench = self.benches[number]
        self._call(number, "as power came on", lambda: bench.device.start(bench))

    def _hear(self, name: str, data: bytes) -> None:
        if self.ear:
            self.ear(name, data)

    def send(self, name: str, data: bytes) -> None:
        """Something from outside for a device. KeyError where there is none of the name."""
        names = [bench.device.name for bench in self.benches]
        if name not in names:
            raise KeyError(name)
        number = names.index(name)
        bench = self.benches[number]
        if number not in self._failed:
            self._call(number, "as it received", lambda: bench.device.received(bench, data))

    def after_tick(self, woken: Sequence[int] = ()) -> None:
        """A tick has settled: call whom it concerns. Raises DeviceError once all were called."""
        calls = self._calls(woken)
        if not calls:
            return
        self._watch_moment()
        failures = []
        for number, nets in sorted(calls.items()):
            try:
                self._wake_and_tell(number, number in woken, nets)
            except DeviceError as failure:
                failures.append(failure)
        if failures:
            raise failures[0]

    def _calls(self, woken: Sequence[int]) -> dict[int, list[NetId]]:
        calls: dict[int, list[NetId]] = {number: [] for number in woken}
        before, self._was = self._was, self._now()
        if before == self._was:
            return {number: nets for number, nets in calls.items() if number not in self._failed}
        for net, watchers in self._watchers.items():
            was, now = before[net], self._was[net]
            for number, watch in watchers if was != now else ():
                if _is_edge(watch.edge, was, now) and all(self.host.value(at) == level for at, level in watch.when):
                    calls.setdefault(number, []).append(net)
        return {number: nets for number, nets in calls.items() if number not in self._failed}

    @property
    def watches(self) -> tuple[Watch, ...]:
        """What the devices wait for, without those that are called no more."""
        return tuple(
            watch for watchers in self._watchers.values() for number, watch in watchers if number not in self._failed
        )

    def looked(self) -> None:
        """Time went by in which nothing came that a device waits for."""
        self._was = self._now()

    def _now(self) -> dict[NetId, Value]:
        return dict(zip(self._was, self.host.values(tuple(self._was)), strict=True))

    def _watch_moment(self) -> None:
        time, count = self._moment
        self._moment = (time, count + 1) if time == self.host.time_ps else (self.host.time_ps, 0)
        if self._moment[1] > RESTLESS:
            names = ", ".join(bench.device.name for bench in self.benches)
            message = f"the devices ({names}) kept answering at one moment, {RESTLESS} ticks long"
            raise LatchworkError(Problem("R204", message, help="let one of them answer after a time"))

    def _wake_and_tell(self, number: int, woken: bool, nets: Sequence[NetId]) -> None:
        bench = self.benches[number]
        if woken:
            self._call(number, "at the time it asked for", lambda: bench.device.woken(bench))
        if nets:
            self._call(number, "at an edge", lambda: bench.device.changed(bench, nets))

    def _call(self, number: int, when: str, call: Callable[[], None]) -> None:
        try:
            call()
        except Exception as error:
            self._failed |= {number}
            doing = f"{when}, tick {self.host.ticks}"
            raise DeviceError(self.benches[number].device.name, doing, _reason(error)) from error

    def saved(self) -> object:
        states = tuple(bench.device.save() for bench in self.benches)
        return states, dict(self._was), self._failed, self._moment

    def restore(self, saved: object) -> None:
        """ValueError where it was saved with other devices."""
        states: tuple[object, ...]
        was: dict[NetId, Value]
        states, was, self._failed, self._moment = saved  # type: ignore[misc]
        if len(states) != len(self.benches):
            raise ValueError("it was saved with other devices attached")
        for bench, state in zip(self.benches, states, strict=True):
            bench.device.restore(state)
        self._was = dict(was)


def _is_edge(edge: Edge, was: Value, now: Value) -> bool:
    if edge is Edge.BOTH:
        return was != now
    ends = (Value.LOW, Value.HIGH) if edge is Edge.RISE else (Value.HIGH, Value.LOW)
    return (was, now) == ends


def _reason(error: Exception) -> str:
    """The error in words, with the line of the device that raised it."""
    frame = error.__traceback__
    while frame is not None and frame.tb_next is not None:
        frame = frame.tb_next
    place = f" ({frame.tb_frame.f_code.co_filename.rpartition('/')[2]}:{frame.tb_lineno})" if frame else ""
    return f"{type(error).__name__}: {error}{place}" if str(error) else f"{type(error).__name__}{place}"
