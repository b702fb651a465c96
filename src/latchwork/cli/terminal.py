"""A device joined to the terminal: what it emits is printed as it comes, what is typed reaches it."""

from __future__ import annotations

import contextlib
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from latchwork.tools.run.running import Running

TICKS = 500
"""So many ticks lie between two looks at the keyboard."""


@contextlib.contextmanager
def joined(running: Running, device: str, as_json: bool) -> Iterator[None]:
    """Input that is no keyboard is sent whole at the start. Raises LatchworkError where there is no such device."""
    out = sys.stderr if as_json else sys.stdout
    running.send(device, b"")

    def emitted(name: str, data: bytes) -> None:
        if name == device:
            out.write(data.decode("utf-8", "replace"))
            out.flush()

    running.on_emit = emitted
    try:
        if sys.stdin.isatty():
            with _keyboard(running, device):
                yield
        else:
            running.send(device, sys.stdin.buffer.read())
            yield
    finally:
        running.on_emit = None
        if running.heard(device)[-1:] not in (b"", b"\n"):
            out.write("\n")


@contextlib.contextmanager
def _keyboard(running: Running, device: str) -> Iterator[None]:
    """Keys go to the device as they are pressed. Without termios (not on every system) lines do, once entered."""
    import os
    import select

    waited = 0

    def look() -> None:
        nonlocal waited
        waited += 1
        if waited >= TICKS:
            waited = 0
            if select.select([sys.stdin], [], [], 0)[0]:
                running.send(device, os.read(sys.stdin.fileno(), 1024))

    running.on_tick.append(look)
    try:
        with _keys_at_once():
            yield
    finally:
        running.on_tick.remove(look)


@contextlib.contextmanager
def _keys_at_once() -> Iterator[None]:
    try:
        import termios
        import tty
    except ImportError:
        yield
        return
    before = termios.tcgetattr(sys.stdin)
    tty.setcbreak(sys.stdin)
    try:
        yield
    finally:
        termios.tcsetattr(sys.stdin, termios.TCSADRAIN, before)
