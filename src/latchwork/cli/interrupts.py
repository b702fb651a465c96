"""Ctrl-C while a machine runs: it stops at the end of a tick, so that it can be looked at."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol


class Interruptible(Protocol):
    interrupted: bool


@contextmanager
def interrupts(machine: Interruptible) -> Iterator[None]:
    """Within, Ctrl-C sets ``interrupted``; outside it does what it did before."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def interrupted(number: int, frame: object) -> None:
        machine.interrupted = True

    before = signal.signal(signal.SIGINT, interrupted)
    try:
        yield
    finally:
        machine.interrupted = False
        signal.signal(signal.SIGINT, before)
