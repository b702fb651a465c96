"""Work that goes on beside a run, and ends with the program."""

from __future__ import annotations

import atexit
import threading
import weakref
from collections.abc import Callable
from typing import Generic, TypeVar

Result = TypeVar("Result")

_running: weakref.WeakSet[Task[object]] = weakref.WeakSet()


class Task(Generic[Result]):
    """Does ``work``, which asks now and then whether it is still wanted. With ``aside`` in a thread of its own, else at
    once. What it raises is raised by ``result``."""

    def __init__(self, work: Callable[[Callable[[], bool]], Result | None], *, aside: bool) -> None:
        self._work = work
        self._cancelled = threading.Event()
        self._found: Result | None = None
        self._raised: BaseException | None = None
        self._thread: threading.Thread | None = None
        if aside:
            self._thread = threading.Thread(target=self._run, name="compiling", daemon=True)
            _running.add(self)  # type: ignore[arg-type]
            self._thread.start()
        else:
            self._run()

    def _run(self) -> None:
        try:
            self._found = self._work(lambda: not self._cancelled.is_set())
        except BaseException as raised:  # a thread has nobody to tell
            self._raised = raised

    @property
    def done(self) -> bool:
        return self._thread is None or not self._thread.is_alive()

    def result(self) -> Result | None:
        """Waits for it. None where it was cancelled."""
        if self._thread is not None:
            self._thread.join()
        if self._raised is not None:
            raise self._raised
        return self._found

    def cancel(self) -> None:
        self._cancelled.set()

    def end(self) -> None:
        self.cancel()
        if self._thread is not None:
            self._thread.join()


@atexit.register
def _end_all() -> None:
    """Compiled code must not be torn down under a thread that writes it."""
    for task in list(_running):
        task.end()
