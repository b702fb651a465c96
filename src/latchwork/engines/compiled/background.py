"""Work that goes on beside a run, and ends with the program."""

from __future__ import annotations

import atexit
import gc
import threading
import weakref
from collections.abc import Callable
from typing import Generic, TypeVar

Result = TypeVar("Result")

_running: weakref.WeakSet[Task[object]] = weakref.WeakSet()


class _Collector:
    """Leaves Python's collector of circles off as long as something is compiled beside a run, and then sets aside what
    there is: it is hundreds of thousands of objects, and each time they are all gone through everything stands still
    for a tenth of a second. Counting of references goes on. ``tidy``: from now on they may be gone through."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._tasks = 0
        self._was_on = False
        self._frozen = False

    def __enter__(self) -> None:
        with self._lock:
            if not self._tasks:
                self._was_on = gc.isenabled()
                gc.disable()
            self._tasks += 1

    def __exit__(self, *_: object) -> None:
        with self._lock:
            self._tasks -= 1
            if not self._tasks and self._was_on:
                gc.freeze()
                gc.enable()
                self._frozen = True

    def tidy(self) -> None:
        with self._lock:
            if self._frozen and not self._tasks:
                self._frozen = False
                gc.unfreeze()


collector = _Collector()


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
            self._thread = threading.Thread(target=self._run_aside, name="compiling", daemon=True)
            _running.add(self)  # type: ignore[arg-type]
            self._thread.start()
        else:
            self._run()

    def _run_aside(self) -> None:
        with collector:
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
