"""Devices on the oracle: each of their outputs is a strong driver of its own, whose level an event sets."""

from __future__ import annotations

from latchwork.devices import Device
from latchwork.engines.devices import Attachments, Host
from latchwork.engines.oracle.events import Event
from latchwork.engines.oracle.machine import Machine
from latchwork.engines.oracle.masks import OFF, level_mask
from latchwork.engines.oracle.trouble import Trouble
from latchwork.parts import OutputKind

DRIVE, WAKE = "drive", "wake"
"""Purposes of events: a driver (``slot`` its number) takes a mask; a device (``slot`` its number) is called."""


class Outside:
    """``attached`` are the devices; the events that they ask for wait in the machine's queue."""

    def __init__(self, host: Host, machine: Machine, trouble: Trouble) -> None:
        self.attached = Attachments(host)
        self._machine = machine
        self._trouble = trouble
        self._first = machine.wiring.contributions
        self._woken: list[int] = []

    def add_drivers(self, device: Device) -> None:
        """Its drivers, all off but push-pull ones, which are low; the caller groups the nets anew, settles, and
        attaches it. ValueError where its name is taken."""
        self.attached.refuse_twice(device)
        number = len(self.attached.benches)
        self._trouble.devices.append(device.name)
        for output in device.outputs:
            self._machine.wiring.outside.append(output)
            always = output.kind is OutputKind.PUSH_PULL
            self._machine.nets.masks.append(level_mask(0) if always else OFF)
            self._machine.chip_of_contribution.append(-2 - number)

    def plan_drive(self, time: int, driver: int, level: int | None) -> None:
        mask = OFF if level is None else level_mask(level)
        self._machine.queue.add(time, Event(driver, DRIVE, (mask, 0)))

    def plan_wake(self, time: int, device: int) -> None:
        self._machine.queue.add(time, Event(device, WAKE, (0, 0)))

    def apply(self, event: Event) -> bool:
        """Whether the event was for a device."""
        if event.purpose == WAKE:
            self._woken.append(event.slot)
        elif event.purpose == DRIVE:
            self._machine.nets.set_mask(self._first + event.slot, event.value[0])
        return event.purpose in (DRIVE, WAKE)

    def levels(self) -> list[int]:
        """What each driver gives, as a mask."""
        return self._machine.nets.masks[self._first :]

    def put_levels(self, masks: list[int]) -> None:
        """What each driver gives from here on; nets are not told."""
        self._machine.nets.masks[self._first :] = masks

    def nobody_woken(self) -> None:
        """The tick that was begun is undone."""
        self._woken = []

    def after_tick(self) -> None:
        """Call the devices that the settled tick concerns. Raises DeviceError."""
        woken, self._woken = tuple(dict.fromkeys(self._woken)), []
        self.attached.after_tick(woken)
